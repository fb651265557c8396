import type { BenchAct, Board, BoardFacts, Sign } from './bench-board.ts';

/** What one event did: the board after it, the acts to be recorded, the signs to give. */
export type Turn = { board: Board; acts: readonly BenchAct[]; signs: readonly Sign[] };

type Without<T, K extends PropertyKey> = T extends unknown ? Omit<T, K> : never;
/** An act before it got its number and time. */
export type ToRecord = Without<BenchAct, 'n' | 'at'>;

/** Nothing happened but perhaps a sign. */
export const quiet = (board: Board, ...signs: Sign[]): Turn => ({ board, acts: [], signs });

/** Numbers acts onward from the board's last one. */
function numbered(board: Board, at: number, acts: readonly ToRecord[]): BenchAct[] {
  return acts.map((act, i) => ({ ...act, n: board.nextAct + i, at }) as BenchAct);
}

/** Acts recorded without a step: what cannot sensibly be stepped back (a pause, a STOP, a step back itself). */
export function recordOnly(board: Board, at: number, acts: readonly ToRecord[], ...signs: Sign[]): Turn {
  const recorded = numbered(board, at, acts);
  return { board: { ...board, nextAct: board.nextAct + acts.length }, acts: recorded, signs };
}

/** A step: facts change, acts are recorded, and one step back undoes both. `what` names it where it is offered back. */
export type StepTaken = {
  at: number;
  what: string;
  queen: string | null;
  facts: Partial<BoardFacts>;
  record: readonly ToRecord[];
  signs: readonly Sign[];
};

export function takeStep(board: Board, step: StepTaken): Turn {
  const turn = recordOnly(board, step.at, step.record, ...step.signs);
  const done = { before: board.facts, acts: turn.acts.map((act) => act.n), what: step.what, queen: step.queen };
  const facts = { ...board.facts, ...step.facts };
  return { ...turn, board: { ...turn.board, facts, also: null, steps: [...board.steps, done] } };
}

/** Takes the last step back: the board is what it was, and the acts of that step are named to be stepped back. */
export function stepBack(board: Board, at: number): Turn {
  const last = board.steps.at(-1);
  if (last === undefined) return quiet(board, 'nothing-waiting');
  const before: Board = { ...board, facts: last.before, also: null, steps: board.steps.slice(0, -1) };
  const acts: ToRecord[] = last.acts.length > 0 ? [{ kind: 'step-back', of: last.acts }] : [];
  return recordOnly(before, at, acts, 'stepped-back');
}
