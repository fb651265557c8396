import type { Board, InHand, Stop } from '#domain/insemination/bench-board.ts';
import { resumeBoard } from '#domain/insemination/resume-board.ts';
import { readLedger } from '#domain/semen/ledger.ts';
import type { LedgerLine, TubeEnd } from '#domain/semen/ledger-line.ts';
import { type LedgerStory, USUAL_ASSUMPTIONS } from '#domain/semen/ledger-story.ts';
import { idWithin, type RecordId } from '#units/record-id.ts';
import { microlitres } from '#units/volume.ts';
import { type ActSaid, type ActsOfBoard, actsOfBoard } from './acts-of-board.ts';
import type { BoardAnswer } from './bench-board.ts';

/** A label the book does not know: its text and what it was taken for. */
export type UnknownLabel = { kind: 'queen' | 'tube'; code: string };

/** What a device remembers of the moment between two acts: it holds only while the last act is the same. */
export type Hand = {
  after: RecordId | null;
  inHand: InHand | null;
  dose: number;
  stop: Stop | null;
  /** Labels the book does not know, by the id this device gave them. */
  unknown: readonly (readonly [string, UnknownLabel])[];
};

/** A board made of acts, and which act of the book each of its numbers is. */
export type Rebuilt = Pick<ActsOfBoard, 'actOf' | 'inseminations'> & { board: Board; last: RecordId | null };

/** Acts of the book, then those of the outbox the book does not have yet. */
export function joined(book: readonly ActSaid[], outbox: readonly ActSaid[]): ActSaid[] {
  const known = new Set(book.map(({ id }) => id));
  return [...book, ...outbox.filter(({ id }) => !known.has(id))];
}

/**
 * The board from what the book says and what this device has not sent yet. Nothing else is needed: after a reload, a kill, or on
 * another device it opens at the same queen. `hand` puts the queen under the microscope, the dose set for her and a STOP back as
 * they were, if no act has come since.
 */
export function rebuildBoard(answer: BoardAnswer, outbox: readonly ActSaid[], hand: Hand | null): Rebuilt {
  const { setup, day, cross } = answer;
  const of = { bench_day: day.id, cross: cross.id, zone: day.zone };
  const { acts, actOf, inseminations } = actsOfBoard(joined(answer.acts, outbox), of);
  const board = resumeBoard(setup, acts);
  const last = actOf.get(acts.at(-1)?.n ?? 0) ?? null;
  const isSame = hand !== null && hand.after === last;
  const isDone = (status: string) => status === 'given' || status === 'closed';
  const waits = (queen: string) => board.facts.queue.some((each) => each.queen === queen && !isDone(each.status));
  const inHand = isSame && hand.inHand !== null && waits(hand.inHand.queen) ? hand.inHand : null;
  const facts = isSame ? { ...board.facts, inHand, dose: hand.dose } : board.facts;
  return { board: { ...board, facts, stop: isSame ? hand.stop : null }, actOf, inseminations, last };
}

type GivenSaid = {
  draws?: readonly { tube: string; end?: TubeEnd; microlitres: number }[];
  collected?: { tube: string; catch: string; drones?: number | null; microlitres?: number | null };
};

/** The ledger lines an act not sent yet will make, with the ids they will have. */
function linesAhead({ id, name, input, done }: ActSaid): LedgerLine[] {
  if (name !== 'give-dose' && name !== 'fill-tip') return [];
  const { draws = [], collected } = input as GivenSaid;
  const first = name === 'give-dose' ? 1 : 0;
  const filled: [string, LedgerLine['act']][] =
    collected === undefined
      ? []
      : [
          [
            collected.tube,
            {
              kind: 'collected',
              catch: collected.catch,
              of: null,
              microlitres: collected.microlitres == null ? null : microlitres(collected.microlitres),
              drones: collected.drones ?? null,
              volumes: null,
              end: 'filled',
            },
          ],
        ];
  const drawn = draws.map((draw): [string, LedgerLine['act']] => [
    draw.tube,
    { kind: 'dose', microlitres: microlitres(draw.microlitres), end: draw.end ?? 'filled' },
  ]);
  return [...filled, ...drawn].map(([tube, act], i) => ({
    id: idWithin(id, first + i),
    tube,
    at: done,
    person: null,
    corrects: null,
    act,
  }));
}

/** The most lines one act of the bench makes in the ledgers. */
const MOST_LINES = 12;

/**
 * The ledgers of the rack as a story: the lines of the book, without those of acts this device is about to step back, and the
 * lines its unsent acts will make.
 */
export function readRack({ ledger, acts }: BoardAnswer, outbox: readonly ActSaid[]): LedgerStory {
  const { tubes, lines, catches, mixing } = ledger;
  const gone = new Set(
    outbox.flatMap((act) => (act.name === 'step-back' ? [(act.input as { act: RecordId }).act] : [])),
  );
  const goneLines = new Set(
    [...gone].flatMap((act) => Array.from({ length: MOST_LINES }, (_, n) => idWithin(act, n) as string)),
  );
  const known = new Set(acts.map(({ id }) => id));
  const ahead = outbox.filter(({ id }) => !known.has(id) && !gone.has(id)).flatMap(linesAhead);
  return readLedger({
    tubes,
    lines: [...lines.filter(({ id }) => !goneLines.has(id)), ...ahead],
    catches: new Map(catches.map((each) => [each.id, each])),
    assumptions: { ...USUAL_ASSUMPTIONS, tubes: new Map(mixing) },
  });
}
