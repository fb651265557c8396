import { z } from 'zod';
import { tally } from '#domain/semen/tally.ts';
import { gatherLedger } from '#gather/ledger.ts';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import { dayOfMoment, type Moment } from '#units/moment.ts';
import { doubt, type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { endShape, microlitreShape, newTubeShape, readHowShape, sourceShape, whenAndWho } from './shapes.ts';
import { doubtsOfSources, sourcesMade } from './write-catch.ts';
import { type Line, lineAt, linesWritten, tubeMade } from './write-line.ts';

const intoShape = z.strictObject({
  tube: idShape.optional(),
  new: newTubeShape.optional(),
  /** Readings before and after, µl; without one after, about 1 µl a drone is taken until it is measured. */
  start: microlitreShape,
  end: microlitreShape.optional(),
  /** Drones that gave into this tube. */
  drones: z.number().min(0).optional(),
  by_end: endShape.optional(),
  /** Place in `sources` of the mother, where drones were told apart. */
  source: z.int().min(0).optional(),
  read_how: readHowShape.optional(),
});
type Into = z.infer<typeof intoShape>;

const input = z.strictObject({
  code: z.string().trim().min(1).max(200).optional(),
  bench_day: idShape.optional(),
  day: dayShape.optional(),
  taken: z.int().min(0).optional(),
  left_over: z.int().min(0).optional(),
  gave: z.int().min(0),
  stranger_share: z.number().min(0).max(1).optional(),
  age_from: z.int().min(0).optional(),
  age_to: z.int().min(0).optional(),
  sources: z.array(sourceShape).max(50),
  reasons: z
    .array(
      z.strictObject({
        reason: z.enum(['faeces', 'mucus', 'bubble', 'immature', 'other']),
        count: z.int().min(1),
        /** Place in `into` of the tube it got into. */
        into: z.int().min(0).optional(),
      }),
    )
    .optional(),
  into: z.array(intoShape).max(50),
  ...whenAndWho,
});
type Input = z.infer<typeof input>;

/** Readings nearer to the ledger than this are the same reading. */
const READABLE = 0.25;

function impossible({ into, sources }: Input): Problem[] {
  return into.flatMap((one, i) => [
    ...(one.end !== undefined && one.end < one.start
      ? [refuse(`into.${i}.end`, 'end-below-start', { start: one.start, end: one.end })]
      : []),
    ...(one.tube === undefined && one.new === undefined ? [refuse(`into.${i}.tube`, 'needed')] : []),
    ...(one.source !== undefined && one.source >= sources.length ? [refuse(`into.${i}.source`, 'no-such-source')] : []),
  ]);
}

type Opened = { ids: RecordId[]; changes: Change[]; problems: Problem[] };

/** The tubes collected into: those of the book, and new ones. */
async function openTubes(into: readonly Into[], circumstances: Circumstances): Promise<Opened> {
  const opened: Opened = { ids: [], changes: [], problems: [] };
  for (const [i, one] of into.entries()) {
    if (one.tube !== undefined) {
      opened.ids.push(one.tube);
      continue;
    }
    if (one.new === undefined) continue;
    const made = await tubeMade(one.new, `into.${i}.new.code`, circumstances);
    opened.ids.push(made.id);
    opened.changes.push(made.change);
    opened.problems.push(...made.problems);
  }
  return opened;
}

type Filling = { from: RecordId; tubes: readonly RecordId[]; sources: readonly RecordId[]; at: Moment };

/** The lines of each tube: measured again where the start reading is not what the ledger says, then what was collected. */
async function fillingLines(given: Input, { from, tubes, sources, at }: Filling, circumstances: Circumstances) {
  const known = given.into.some((one) => one.tube !== undefined) ? await gatherLedger(circumstances.book) : null;
  const lines = given.into.flatMap((one, i): Line[] => {
    const tube = tubes[i];
    if (tube === undefined) return [];
    const booked = known?.story.tubes.get(tube)?.left ?? 0;
    const base = { at, person: given.person };
    const read = { ...lineAt(tube, 're-measured', base), volume_ul: one.start, read_how: one.read_how ?? null };
    const collected: Line = {
      ...lineAt(tube, 'collected', base),
      volume_ul: one.end === undefined ? null : one.end - one.start,
      catch: from,
      source: one.source === undefined ? null : (sources[one.source] ?? null),
      drones: one.drones ?? (given.into.length === 1 ? given.gave : null),
      end: one.by_end ?? null,
      read_how: one.read_how ?? null,
    };
    return Math.abs(booked - one.start) > READABLE ? [read, collected] : [collected];
  });
  return linesWritten(lines, circumstances);
}

/** Drones gave into a tube nobody read: what it holds is a guess until it is measured. */
const unread = ({ into, gave }: Input, tubes: readonly RecordId[]): Problem[] =>
  into.flatMap(({ end, drones }, i) =>
    end === undefined && (drones ?? gave) > 0
      ? [doubt(`into.${i}.end`, 'volume-not-read', { kind: 'tube', id: tubes[i] ?? '' })]
      : [],
  );

function reasonsMade({ reasons = [] }: Input, from: RecordId, tubes: readonly RecordId[], { newId }: Circumstances) {
  const rows = reasons.map(({ reason, count, into }) => ({
    reason,
    count,
    tube: into === undefined ? null : (tubes[into] ?? null),
  }));
  const changes = rows.map((row) => creating('drone_catch_reason', newId(), { catch: from, ...row }));
  const soiled = rows.flatMap(({ reason, tube }) => (reason === 'faeces' && tube !== null ? [tube] : []));
  const problems = soiled.map((tube) => doubt('reasons', 'tube-soiled', { kind: 'tube', id: tube }));
  return { changes, problems };
}

const counts = ({ taken, left_over, gave, reasons = [] }: Input) => {
  const byReason: Partial<Record<(typeof reasons)[number]['reason'], number>> = {};
  for (const { reason, count } of reasons) byReason[reason] = (byReason[reason] ?? 0) + count;
  return { taken: taken ?? null, leftOver: left_over ?? null, gave, reasons: byReason };
};

/**
 * A catch of drones with their mothers, how many were taken, left over and gave, why others did not, and what was
 * collected into which tube with its readings before and after: one act.
 */
export const tallyDrones = action({
  name: 'tally-drones',
  place: 'semen',
  what: 'Write down a catch of drones with its mothers, how many gave, and what was collected into which tube.',
  input,
  async run(given, circumstances) {
    const refused = impossible(given);
    if (refused.length > 0) return { changes: [], result: null, problems: refused };
    const at = given.at ?? circumstances.done;
    const day = given.day ?? dayOfMoment(at);
    const { code, bench_day, taken, left_over, gave, stranger_share, age_from, age_to } = given;
    const id = circumstances.newId();
    const row = { code, bench_day, day, moment: at, taken, left_over, gave, stranger_share, age_from, age_to };
    const sources = sourcesMade(id, given.sources, circumstances);
    const tubes = await openTubes(given.into, circumstances);
    const reasons = reasonsMade(given, id, tubes.ids, circumstances);
    const filling = { from: id, tubes: tubes.ids, sources: sources.ids, at };
    const lines = await fillingLines(given, filling, circumstances);
    return {
      changes: [creating('drone_catch', id, row), ...sources.changes, ...tubes.changes, ...reasons.changes, ...lines],
      result: { id, tubes: tubes.ids },
      problems: [
        ...tally(counts(given)).problems,
        ...(await doubtsOfSources(given.sources, { day, age_from, age_to }, circumstances.book)),
        ...tubes.problems,
        ...reasons.problems,
        ...unread(given, tubes.ids),
      ],
    };
  },
});
