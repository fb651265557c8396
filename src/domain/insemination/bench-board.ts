import type { TubeEnd } from '#domain/semen/ledger-line.ts';
import type { ExceptionKind, NotDoneReason } from './exception.ts';
import { type PedalEvent, type PedalState, restingPedal } from './pedal.ts';

/** A queen of the open cross in the order she comes to the bench. `given`: inseminated, not yet seen going back in. */
export type QueueEntry = {
  queen: string;
  cage: string | null;
  status: 'waiting' | 'given' | 'closed' | 'not-done';
};

/**
 * A tube of the open cross. `left` µl by its ledger, null when nobody knows. `collectFrom` on the tip itself: collect and
 * give, every dose is first collected from this catch.
 */
export type RackTube = {
  tube: string;
  left: number | null;
  end: TubeEnd;
  collectFrom: { catch: string; drones: number | null } | null;
  /** Not to be used (condemned, frozen): it stays on the rack only because it was at this board before. */
  isBarred?: true;
};

/** Queens, cages and tubes that belong to another cross (`cross` null: to none): what a STOP names. */
export type Elsewhere = {
  queens: readonly { queen: string; cage: string | null; cross: string | null }[];
  tubes: readonly { tube: string; cross: string | null }[];
};

/** What a label says when it is carried past the reader. */
export type Label = { kind: 'queen' | 'cage' | 'tube'; id: string };

/** A part of a dose out of one tube, µl. */
export type Draw = { tube: string; end: TubeEnd; microlitres: number };

/** The queen under the microscope: how she came to be there, what she got so far, what was noted. */
export type InHand = {
  queen: string;
  by: 'label' | 'queue';
  draws: readonly Draw[];
  exceptions: readonly ExceptionKind[];
};

/** A queen or tube that does not belong here, seen before the dose. `belongsTo` null: to no cross we know. */
export type Stop = { label: Label; belongsTo: string | null; openCross: string; inHand: string | null };

/** Doubts a dose is recorded with: facts are not refused. */
export type DoseDoubt = 'wrong-queen' | 'wrong-tube' | 'tube-overdrawn' | 'tube-not-said';

/** What is to be recorded. `n` counts the acts of one board; a step back names the acts it takes back by their `n`. */
export type BenchAct = { n: number; at: number } & (
  | {
      kind: 'dose-given';
      queen: string;
      cross: string;
      draws: readonly Draw[];
      microlitres: number;
      tip: number;
      exceptions: readonly ExceptionKind[];
      doubts: readonly DoseDoubt[];
    }
  /** `isShared`: for the next queens until it is used up; else for the one dose recorded with it. */
  | {
      kind: 'collected';
      tube: string;
      catch: string;
      drones: number | null;
      microlitres: number | null;
      isShared: boolean;
    }
  | { kind: 'closed'; queen: string }
  | { kind: 'exception'; queen: string; exception: ExceptionKind }
  | { kind: 'not-done'; queen: string; reason: NotDoneReason }
  | { kind: 'tip'; tip: number }
  | { kind: 'capillary'; tube: string; was: string | null }
  | { kind: 'paused' | 'resumed' }
  | { kind: 'co2'; queen: string; minutes: number }
  | { kind: 'coded'; queen: string; code: string | null; disc: number | null; clip: 'left' | 'right' | 'none' | null }
  | { kind: 'stopped'; label: Label; belongsTo: string | null; exit: 'taken-away' | 'it-has-happened' }
  | { kind: 'step-back'; of: readonly number[] }
);

/** What the board sounds and shows at once, with its shape; the words live on the screen. */
export type Sign =
  | 'accepted'
  | 'flagged'
  | 'stepped-back'
  | 'mismatch'
  | 'rising'
  | 'offered'
  | 'lapsed'
  | 'two-cages'
  | 'nothing-waiting'
  | 'tube-runs-short'
  | 'next-tube'
  | 'read-back';

/** Everything that can happen at the bench, with its time in milliseconds since 1970. */
export type BenchEvent = { at: number } & (
  | PedalEvent
  | { kind: 'presented'; label: Label }
  | { kind: 'accept' }
  | { kind: 'flag' }
  | { kind: 'step-back' }
  | { kind: 'tip' }
  | { kind: 'pause' }
  | { kind: 'read-back' }
  | { kind: 'digit'; digit: number }
  | { kind: 'exception'; exception: ExceptionKind }
  | { kind: 'not-done'; reason: NotDoneReason }
  | { kind: 'dose'; change: number }
  /** The next capillary of the rack, or the one named. */
  | { kind: 'capillary'; tube?: string }
  /** Drones drawn into the tip for the next queens (one drone for one to three of them). */
  | { kind: 'filled'; drones: number; microlitres: number | null }
  | { kind: 'co2'; minutes: number }
  | { kind: 'coded'; code: string | null; disc: number | null; clip: 'left' | 'right' | 'none' | null }
  | { kind: 'taken-away' | 'it-has-happened' }
);

/** What the board was before a step, and the acts that step recorded. */
export type Step = { before: BoardFacts; acts: readonly number[]; what: string; queen: string | null };

/** The part of the board that stepping back restores. */
export type BoardFacts = {
  queue: readonly QueueEntry[];
  rack: readonly RackTube[];
  tube: string | null;
  tip: number;
  /** µl of the dose in hand, or of the next one. */
  dose: number;
  inHand: InHand | null;
  /** The queen last inseminated, with what went otherwise: late exceptions are hers. */
  last: { queen: string; microlitres: number; at: number; exceptions: readonly ExceptionKind[] } | null;
};

/** The bench board of one open cross. Plain data: it can be stored and opened again at the same queen. */
export type Board = {
  cross: string;
  usualDose: number;
  elsewhere: Elsewhere;
  facts: BoardFacts;
  /** A second cage shown beside the queen in hand; it opens and closes nothing. */
  also: string | null;
  stop: Stop | null;
  isPaused: boolean;
  pedal: PedalState;
  steps: readonly Step[];
  nextAct: number;
};

/** What opens a board. */
export type BoardSetup = {
  cross: string;
  usualDose: number;
  queue: readonly { queen: string; cage: string | null }[];
  rack: readonly RackTube[];
  elsewhere: Elsewhere;
  tip: number;
};

/** The board at the start of the work on one cross: everyone waits, the first tube of the rack is mounted. */
export const openBoard = (setup: BoardSetup): Board => ({
  cross: setup.cross,
  usualDose: setup.usualDose,
  elsewhere: setup.elsewhere,
  facts: {
    queue: setup.queue.map((entry) => ({ ...entry, status: 'waiting' })),
    rack: setup.rack,
    tube: setup.rack[0]?.tube ?? null,
    tip: setup.tip,
    dose: setup.usualDose,
    inHand: null,
    last: null,
  },
  also: null,
  stop: null,
  isPaused: false,
  pedal: restingPedal,
  steps: [],
  nextAct: 1,
});

/** Where the board is: a STOP covers everything, then a pause; else a queen is in hand or awaited. */
export function phaseOf(board: Board): 'stopped' | 'paused' | 'in-hand' | 'waiting' {
  if (board.stop !== null) return 'stopped';
  if (board.isPaused) return 'paused';
  return board.facts.inHand === null ? 'waiting' : 'in-hand';
}

/** The queen whose turn it is by the queue; null when everyone is through. */
export const nextInQueue = (facts: BoardFacts): string | null =>
  facts.queue.find((entry) => entry.status === 'waiting')?.queen ?? null;
