import type { Change } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';
import { creating } from '../mechanism/recording.ts';
import type { CarriesEntry, QueenEntry } from './queen-entry.ts';

type Ids = { newId(): RecordId };

function droneSide(queen: RecordId, { how, parts = [], ...said }: CarriesEntry, { newId }: Ids): Change[] {
  const { on = null, drones = null, given_ul = null, said_by = null, share = null, season = null } = said;
  if (how === 'open' || how === 'suspected') {
    const flight = {
      season,
      flew_from: on,
      flew_to: on,
      drones,
      suspected: how === 'suspected' ? 1 : 0,
      share,
    } as const;
    return [creating('natural_mating', newId(), { queen, ...flight })];
  }
  if (how === 'seller') {
    const words = parts.length > 0 ? parts : [{}];
    return words.map(({ queen: mother, ...part }: (typeof parts)[number]) =>
      creating('pool_word', newId(), { queen, ...part, mother: mother ?? null, drones, said_on: on, said_by }),
    );
  }
  const id = newId();
  return [
    creating('insemination', id, { queen, day: on, done: 1, drones, given_ul }),
    ...parts.map((part) => creating('insemination_source', newId(), { insemination: id, ...part })),
  ];
}

/** What a queen carries, as changes: an old insemination with its sources, a seller's word, or a mating flight. */
export const carriesChanges = droneSide;

/** Her stay; where her story has ended it ended with it. */
function placeOf(queen: RecordId, { stands, fate }: QueenEntry, { newId }: Ids): Change[] {
  if (stands === undefined) return [];
  const { colony = null, cage = null, since = null } = stands;
  const role = colony === null ? 'caged' : 'heads';
  const to_earliest = fate?.happened_on ?? null;
  const to_latest = fate?.happened_latest ?? to_earliest;
  const span = { from_earliest: since, from_latest: since, to_earliest, to_latest };
  return [creating('stay', newId(), { queen, colony, cage, role, ...span })];
}

/**
 * The changes that write down one queen with everything said of her. Her record is made under `id`; everything else takes ids
 * from `newId`. The same for a form, an import and the sample stock.
 */
export function queenChanges(id: RecordId, given: QueenEntry, ids: Ids): Change[] {
  const { newId } = ids;
  const { queen, guesses = [], mark, carries, fate, former_codes = [], note, seen_on } = given;
  const dam_sure = queen.dam_sure ?? (queen.dam ? 'known' : null);
  const about = { about_kind: 'queen', about: id };
  return [
    creating('queen', id, { ...queen, dam_sure }),
    ...(mark === undefined
      ? []
      : [creating('mark', newId(), { worn_from: queen.emerged ?? null, ...mark, queen: id })]),
    ...placeOf(id, given, ids),
    ...guesses.map((guess) => creating('guess', newId(), { ...about, ...guess })),
    ...(carries === undefined ? [] : droneSide(id, carries, ids)),
    ...former_codes.map((code) => creating('queen_code', newId(), { queen: id, code })),
    ...(seen_on === undefined
      ? []
      : [creating('laying_check', newId(), { queen: id, day: seen_on, queen_seen: 'seen' })]),
    ...(fate === undefined ? [] : [creating('fate', newId(), { ...fate, queen: id })]),
    ...(note === undefined ? [] : [creating('note', newId(), { ...about, words: note })]),
  ];
}
