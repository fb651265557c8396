import type { ImportPlan, PlannedMating, PlannedQueen, QueenRef } from '#domain/stock-book/plan.ts';
import type { Change } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { queenChanges } from '../stock/queen-changes.ts';
import type { CarriesEntry, QueenEntry, SourceEntry } from '../stock/queen-entry.ts';
import { batchTubes, doseChanges } from './batches.ts';
import { byName, hiveOf, type Named, named, placesOf } from './places.ts';
import { type Placed, staysOf } from './stays.ts';

/** Everything a plan names, as records: found in the book or made. */
type Directory = {
  queen: (ref: QueenRef) => RecordId;
  group: (key: string) => RecordId;
  lines: Named;
  seasons: Named;
  tubes: Named;
};

function sourceOf(
  part: Extract<PlannedMating, { how: 'inseminated' }>['parts'][number],
  directory: Directory,
): SourceEntry {
  if (part.of === 'open') return {};
  if ('group' in part.of) return { sister_group: directory.group(part.of.group) };
  if ('line' in part.of) return { line: directory.lines.idOf(part.of.line) };
  return { queen: directory.queen(part.of) };
}

function carriesOf(mating: PlannedMating | null, directory: Directory): CarriesEntry | undefined {
  if (mating === null || mating.how === 'batch' || mating.how === 'place') return undefined;
  const { on, drones } = mating;
  const known = { ...(on === null ? {} : { on }), ...(drones === null ? {} : { drones }) };
  if (mating.how === 'open') return { how: 'open', ...known };
  const several = mating.parts.length > 1;
  const parts = mating.parts.map((part) => ({
    ...sourceOf(part, directory),
    ...(several ? { share: part.share } : {}),
    ...(mating.oneOf ? { alternative: 1 as const } : {}),
  }));
  return { how: 'inseminated', ...known, ...(mating.dose === null ? {} : { given_ul: mating.dose }), parts };
}

/** What a row says of a queen, as the form would say it. */
function entryOf(planned: PlannedQueen, directory: Directory, seenOn: QueenEntry['seen_on']): QueenEntry {
  const { code, dam, draft, mating } = planned;
  const carries = carriesOf(mating, directory);
  const queen = {
    code,
    emerged: draft?.emerged?.day ?? null,
    emerged_about: draft?.emerged?.about ?? null,
    emerged_sure:
      draft?.emerged == null ? null : draft.emerged.about === null ? ('known' as const) : ('guessed' as const),
    year: draft?.emerged == null ? (draft?.year ?? null) : null,
    dam: dam === null ? null : directory.queen(dam),
    dam_sure: dam === null ? null : ('known' as const),
    line: draft?.line == null ? null : directory.lines.idOf(draft.line),
  };
  if (draft === null) return { queen };
  const { colour, disc, clip, fate, notes, writtenCode, formerCode, living } = draft;
  const marked = colour !== null || disc !== null || clip !== null;
  const former = [writtenCode, formerCode].filter((each) => each !== null);
  const seen = fate === null && (living || seenOn !== undefined) ? seenOn : undefined;
  return {
    queen,
    ...(marked ? { mark: { colour, disc, clip } } : {}),
    ...(carries === undefined ? {} : { carries }),
    ...(fate === null
      ? {}
      : { fate: { kind: fate.kind, happened_on: fate.on, happened_latest: fate.on, cause: fate.cause } }),
    ...(former.length === 0 ? {} : { former_codes: former }),
    ...(notes.length === 0 ? {} : { note: notes.join('\n') }),
    ...(seen === undefined ? {} : { seen_on: seen }),
  };
}

function flightTo(
  queen: RecordId,
  mating: Extract<PlannedMating, { how: 'place' }>,
  { directory, newId }: { directory: Directory; newId(): RecordId },
): Change[] {
  const season = mating.year === null ? null : directory.seasons.idOf(`${mating.place}\u0000${mating.year}`);
  return [creating('natural_mating', newId(), { queen, season, suspected: 0 })];
}

/** Mating places and seasons by name and year, found or made. */
async function seasonsOf({ book, newId }: Circumstances): Promise<{ places: Named; seasons: Named }> {
  const known = await book.find('mating_place');
  const names = new Map(known.map(({ id, name }) => [id, name]));
  const places = named(
    byName(known, ({ name }) => name),
    (name) => {
      const id = newId();
      return { id, changes: [creating('mating_place', id, { name })] };
    },
  );
  const inBook = byName(
    await book.find('mating_season'),
    ({ place, year }) => `${names.get(place) ?? ''}\u0000${year}`,
  );
  const seasons = named(inBook, (key) => {
    const [place = '', year] = key.split('\u0000');
    const id = newId();
    const at = places.idOf(place);
    return { id, changes: [creating('mating_season', id, { place: at, year: Number(year) })] };
  });
  return { places, seasons };
}

/** Every change an import makes, in an order in which each names only what stands before it or in the book. */
export async function planChanges(plan: ImportPlan, circumstances: Circumstances): Promise<Change[]> {
  const { book, newId, day, done } = circumstances;
  const ids = new Map<string, RecordId>(plan.queens.map(({ key }) => [key, newId()]));
  const groups = new Map<string, RecordId>(plan.groups.map(({ key }) => [key, newId()]));
  const idOf = (of: ReadonlyMap<string, RecordId>, key: string): RecordId => {
    const found = of.get(key);
    if (found === undefined) throw new Error(`the plan names ${key}, which it does not hold`);
    return found;
  };
  const lines = named(
    byName(await book.find('line'), ({ name }) => name),
    (name) => {
      const id = newId();
      return { id, changes: [creating('line', id, { name })] };
    },
  );
  const { places, seasons } = await seasonsOf(circumstances);
  const directory: Directory = {
    queen: (ref) => ('book' in ref ? ref.book : idOf(ids, ref.planned)),
    group: (key) => idOf(groups, key),
    lines,
    seasons,
    tubes: await batchTubes(book, newId),
  };
  const { yards, hives, keyOfHive } = await placesOf(circumstances);
  const placed: Placed[] = [];
  let place = await book.count('ledger_line');
  const changes: Change[] = [];
  for (const planned of plan.queens) {
    const id = idOf(ids, planned.key);
    const seenOn = plan.seenOn ?? (planned.draft?.living ? day : undefined);
    changes.push(...queenChanges(id, entryOf(planned, directory, seenOn), circumstances));
    const { mating } = planned;
    if (mating?.how === 'place') changes.push(...flightTo(id, mating, { directory, newId }));
    if (mating?.how === 'batch')
      changes.push(
        ...doseChanges({ queen: id, mating, tube: directory.tubes.idOf(mating.batch), place: place++, done, newId }),
      );
    const key = hiveOf(planned, keyOfHive);
    if (key !== null) placed.push({ queen: planned, id, hive: hives.idOf(key) });
    else if (planned.draft?.yard != null) yards.idOf(planned.draft.yard);
  }
  const groupChanges = plan.groups.map(({ key, code, size, dam, year, line }) =>
    creating('sister_group', idOf(groups, key), {
      code,
      size,
      dam: dam === null ? null : directory.queen(dam),
      dam_sure: dam === null ? null : 'known',
      year,
      line: line === null ? null : lines.idOf(line),
    }),
  );
  const stays = staysOf(placed, { day, newId });
  const made = [lines, yards, hives, places, seasons, directory.tubes].flatMap((kind) => kind.changes);
  return [...made, ...groupChanges, ...changes, ...stays];
}
