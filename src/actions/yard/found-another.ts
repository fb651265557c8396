import type { Change } from '#ports/store.ts';
import { addDays, type Day, laterOf } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { lastProof } from './last-proof.ts';
import type { Look } from './look.ts';
import { ending, openStays } from './where-she-is.ts';

/** Between the last day she was surely there and the day she was missed. */
async function missingSpan(look: Look, queen: RecordId, { book }: Circumstances): Promise<{ from: Day; to: Day }> {
  const proof = await lastProof(book, queen, addDays(look.day, -1));
  return { from: proof ?? look.day, to: look.day };
}

/** Her stay in that colony ends between her last proof and this look. */
export async function endHerStay(look: Look, circumstances: Circumstances): Promise<Change[]> {
  if (look.queen === null) return [];
  const stays = await openStays(circumstances.book, look.queen);
  const here = stays.filter(({ colony }) => look.colony === null || colony === look.colony);
  const { from, to } = await missingSpan(look, look.queen, circumstances);
  return here.flatMap((stay) => ending([stay], laterOf(from, stay.from_earliest ?? from), to));
}

function newQueen(look: Look, id: RecordId, { newId }: Circumstances): Change[] {
  const { code = null, colour, disc } = look.another ?? {};
  const dam_sure = look.queen === null ? null : 'guessed';
  const marked = colour !== undefined || disc !== undefined;
  return [
    creating('queen', id, { code, dam: look.queen, dam_sure, origin: 'found', came_on: look.day }),
    creating('natural_mating', newId(), { queen: id }),
    ...(marked
      ? [creating('mark', newId(), { queen: id, colour: colour ?? null, disc: disc ?? null, worn_from: look.day })]
      : []),
  ];
}

/**
 * Writes down the queen found in place of another: one of the book, or a new one, who is then probably a daughter of the
 * queen before her, mated by herself. Her stay begins in the span in which the other's ended.
 */
export async function anotherQueen(look: Look, circumstances: Circumstances): Promise<Change[]> {
  if (look.another === undefined || look.colony === null) return [];
  const { book, newId } = circumstances;
  const known = look.another.queen;
  const id = known ?? newId();
  const from = look.queen === null ? look.day : (await missingSpan(look, look.queen, circumstances)).from;
  const moved = known === undefined ? [] : ending(await openStays(book, known), from, look.day);
  const stay = { queen: id, colony: look.colony, role: 'heads', from_earliest: from, from_latest: look.day } as const;
  return [...(known === undefined ? newQueen(look, id, circumstances) : moved), creating('stay', newId(), stay)];
}
