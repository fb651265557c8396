import { dosesLeft } from '#domain/semen/next-dose.ts';
import type { Board, BoardFacts, DoseDoubt, Draw, InHand, RackTube, Sign } from './bench-board.ts';
import { type ToRecord, type Turn, takeStep } from './take-step.ts';

const ROUNDING = 1e-9;

/** µl of a dose put together from its draws: the last 3 µl of one tube and 5 µl of the next are 8. */
export const doseOf = (draws: readonly Draw[]): number => draws.reduce((sum, draw) => sum + draw.microlitres, 0);

/** The rack after a draw. */
const after = (rack: readonly RackTube[], draw: Draw): RackTube[] =>
  rack.map((tube) =>
    tube.tube === draw.tube && tube.left !== null ? { ...tube, left: tube.left - draw.microlitres } : tube,
  );

/** What is still to be drawn for the queen in hand. */
const remaining = (facts: BoardFacts, inHand: InHand): number => Math.max(0, facts.dose - doseOf(inHand.draws));

/** The open tube on the rack; undefined when none is open, or one that does not belong to the cross. */
const openTube = (facts: BoardFacts): RackTube | undefined => facts.rack.find((tube) => tube.tube === facts.tube);

function doubtsOf(facts: BoardFacts, inHand: InHand, draw: Draw | null): DoseDoubt[] {
  const doubts: DoseDoubt[] = [];
  const tube = openTube(facts);
  if (!facts.queue.some((entry) => entry.queen === inHand.queen)) doubts.push('wrong-queen');
  if (facts.tube === null && draw === null) doubts.push('tube-not-said');
  if (facts.tube !== null && tube === undefined) doubts.push('wrong-tube');
  if (draw !== null && tube?.left !== undefined && tube.left !== null && tube.left < draw.microlitres - ROUNDING) {
    doubts.push('tube-overdrawn');
  }
  return doubts;
}

/** The last draw of the dose, out of the open tube; null when nothing is left to draw or no tube is open. */
function lastDraw(facts: BoardFacts, inHand: InHand): Draw | null {
  const microlitres = remaining(facts, inHand);
  if (facts.tube === null || microlitres <= ROUNDING) return null;
  return { tube: facts.tube, end: openTube(facts)?.end ?? 'filled', microlitres };
}

/** Collect and give: what the tip was filled with for this dose, when nobody told it before. */
function collectedFor(facts: BoardFacts, draw: Draw | null): ToRecord[] {
  const tube = openTube(facts);
  if (draw === null || tube === undefined || tube.collectFrom === null || tube.left !== null) return [];
  return [{ kind: 'collected', tube: tube.tube, ...tube.collectFrom, microlitres: draw.microlitres, isShared: false }];
}

/** True before a tube runs short: at most one more dose is in it, and more queens than that wait for it. */
export function runsShort(facts: BoardFacts, dose: number): boolean {
  const left = openTube(facts)?.left ?? null;
  if (left === null) return false;
  const doses = dosesLeft(left, dose);
  return doses <= 1 && facts.queue.filter((entry) => entry.status === 'waiting').length > doses;
}

/** Records the dose of a queen: time, tube, tip and µl fill themselves in. Whatever is doubtful is recorded with its doubt. */
export function giveDose(board: Board, inHand: InHand, at: number): Turn {
  const { facts } = board;
  const draw = lastDraw(facts, inHand);
  const draws = draw === null ? inHand.draws : [...inHand.draws, draw];
  const { queen, exceptions } = inHand;
  const rest: BoardFacts = {
    ...facts,
    rack: draw === null ? facts.rack : after(facts.rack, draw),
    queue: facts.queue.map((entry) => (entry.queen === queen ? { ...entry, status: 'given' } : entry)),
    inHand: facts.inHand?.queen === queen ? null : facts.inHand,
    dose: board.usualDose,
    last: { queen, microlitres: doseOf(draws), at, exceptions },
  };
  const given: ToRecord = {
    kind: 'dose-given',
    queen,
    cross: board.cross,
    draws,
    microlitres: doseOf(draws),
    tip: facts.tip,
    exceptions,
    doubts: doubtsOf(facts, inHand, draw),
  };
  const signs: Sign[] = runsShort(rest, board.usualDose) ? ['accepted', 'tube-runs-short'] : ['accepted'];
  return takeStep(board, {
    at,
    what: 'dose-given',
    queen,
    facts: rest,
    record: [...collectedFor(facts, draw), given],
    signs,
  });
}

/**
 * The next capillary. If the open one holds less than the dose in hand still needs, what it holds is drawn first and counts
 * to this dose: one dose, two draws.
 */
export function changeTube(board: Board, tube: string, at: number): Turn {
  const { facts } = board;
  const open = openTube(facts);
  const hand = facts.inHand;
  const split =
    hand !== null &&
    open !== undefined &&
    open.left !== null &&
    open.left > ROUNDING &&
    open.left < remaining(facts, hand) - ROUNDING;
  const draw: Draw | null = split ? { tube: open.tube, end: open.end, microlitres: open.left ?? 0 } : null;
  const inHand = hand !== null && draw !== null ? { ...hand, draws: [...hand.draws, draw] } : hand;
  const rack = draw === null ? facts.rack : after(facts.rack, draw);
  const record: ToRecord[] = [{ kind: 'capillary', tube, was: facts.tube }];
  return takeStep(board, {
    at,
    what: 'capillary',
    queen: null,
    facts: { tube, rack, inHand },
    record,
    signs: ['accepted'],
  });
}

/** The tube after the open one that has something in it and may be used; null when there is none. */
export function nextTube(facts: BoardFacts): string | null {
  const place = facts.rack.findIndex((tube) => tube.tube === facts.tube);
  const holds = (tube: RackTube) => tube.isBarred !== true && (tube.left === null || tube.left > ROUNDING);
  const turned = [...facts.rack.slice(place + 1), ...facts.rack.slice(0, Math.max(0, place))];
  return turned.find(holds)?.tube ?? null;
}

/** The open tube with nothing left in it by the book, and the one to open now; null while there is something, or no other. */
export function spentTube(facts: BoardFacts): { spent: string; next: string } | null {
  const open = openTube(facts);
  if (open === undefined || open.left === null || open.left > ROUNDING || open.collectFrom !== null) return null;
  const next = nextTube(facts);
  return next === null || next === open.tube ? null : { spent: open.tube, next };
}
