import { doubtsOfDose } from '#domain/insemination/dose-doubts.ts';
import { tubeFit } from '#domain/insemination/tube-fit.ts';
import { gatherCondemned } from '#gather/condemned.ts';
import { gatherDroneSides } from '#gather/drone-sides.ts';
import { gatherLedger } from '#gather/ledger.ts';
import type { Book } from '#ports/store.ts';
import { epochOf, type Moment, parseMoment } from '#units/moment.ts';
import { doubt, type Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';

/** A dose that was given, as far as it can be doubted. */
export type GivenDose = {
  bench_day: RecordId;
  cross: RecordId;
  queen: RecordId;
  tubes: readonly RecordId[];
  microlitres: number;
  at: Moment;
  /** When the record arrived, milliseconds since 1970. */
  receivedAt: number;
};

/** The queen was not in the queue of the open cross, or no tube was named. */
async function doubtsOfQueue({ bench_day, cross, queen, tubes }: GivenDose, book: Book): Promise<Problem[]> {
  const queued = await book.count('bench_queen', { bench_day, cross, queen });
  const wrong = queued > 0 ? [] : [doubt('queen', 'wrong-queen', { kind: 'queen', id: queen })];
  const unsaid = tubes.length > 0 ? [] : [doubt('draws', 'tube-not-said', { kind: 'queen', id: queen })];
  return [...wrong, ...unsaid];
}

/** She has a dose of this day already: two devices that could not hear of each other may have recorded the same one. */
async function doubtsOfTwo({ bench_day, queen }: GivenDose, book: Book): Promise<Problem[]> {
  const before = await book.count('insemination', { bench_day, queen, done: 1 });
  return before === 0 ? [] : [doubt('queen', 'dose-twice', { kind: 'queen', id: queen })];
}

function startOfDay(day: string | null): number | null {
  const moment = day === null ? null : parseMoment(`${day}T00:00:00+00:00[UTC]`);
  return moment === null ? null : epochOf(moment);
}

/**
 * Everything that can be doubted about a dose that has been given: it is recorded all the same, and the doubt stands as a worry
 * until a person settles it.
 */
export async function doubtsAtBench(dose: GivenDose, book: Book): Promise<Problem[]> {
  const problems = [...(await doubtsOfQueue(dose, book)), ...(await doubtsOfTwo(dose, book))];
  const ledger = await gatherLedger(book);
  const side = (await gatherDroneSides(book)).get(dose.cross);
  const condemned = new Set((await gatherCondemned(book, ledger)).tubes);
  const held = dose.tubes.flatMap((id) => ledger.story.tubes.get(id) ?? []);
  const codes = new Map<string, string>(ledger.tubes.map(({ id, code }) => [id, code]));
  const about = { kind: 'queen', id: dose.queen };
  for (const tube of held) {
    const values = { ...about, tube: codes.get(tube.tube) ?? '' };
    const isForeign = side !== undefined && tubeFit(tube, side.fitting).foreign.length > 0;
    if (isForeign) problems.push(doubt('draws', 'wrong-tube', values));
    if (condemned.has(tube.tube)) problems.push(doubt('draws', 'from-soiled-tube', values));
  }
  const since = held.flatMap((tube) => (tube.since === null ? [] : [tube.since.epoch]));
  const emergedAt = startOfDay((await book.get('queen', dose.queen))?.emerged ?? null);
  const { microlitres, receivedAt } = dose;
  const semenSince = since.length === 0 ? null : Math.min(...since);
  const implausible = doubtsOfDose({ at: epochOf(dose.at), microlitres, receivedAt, semenSince, emergedAt });
  return [...problems, ...implausible.map((each) => ({ ...each, values: { ...each.values, ...about } }))];
}
