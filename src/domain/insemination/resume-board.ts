import {
  type BenchAct,
  type Board,
  type BoardFacts,
  type BoardSetup,
  openBoard,
  type QueueEntry,
} from './bench-board.ts';
import { doseOf } from './give-dose.ts';
import { standingActs } from './standing-acts.ts';

const withStatus = (facts: BoardFacts, queen: string, status: QueueEntry['status']): BoardFacts['queue'] =>
  facts.queue.map((entry) => (entry.queen === queen ? { ...entry, status } : entry));

function filledBy(facts: BoardFacts, act: Extract<BenchAct, { kind: 'collected' }>): BoardFacts['rack'] {
  const { microlitres } = act;
  if (microlitres === null || !act.isShared) return facts.rack;
  return facts.rack.map((tube) =>
    tube.tube === act.tube ? { ...tube, left: Math.max(0, tube.left ?? 0) + microlitres } : tube,
  );
}

/** The rack after a dose; of a tip nobody measures, as much is left as before: unknown. */
function drawnBy(facts: BoardFacts, act: Extract<BenchAct, { kind: 'dose-given' }>): BoardFacts['rack'] {
  return facts.rack.map((tube) => {
    const drawn = doseOf(act.draws.filter((draw) => draw.tube === tube.tube));
    return tube.left === null ? tube : { ...tube, left: tube.left - drawn };
  });
}

/** The tube open after a dose: the one on the rack it was drawn from last, whatever order the rack is in by now. */
const openAfter = (facts: BoardFacts, act: Extract<BenchAct, { kind: 'dose-given' }>): BoardFacts['tube'] =>
  act.draws.findLast((draw) => facts.rack.some((tube) => tube.tube === draw.tube))?.tube ?? facts.tube;

function applied(facts: BoardFacts, act: BenchAct): BoardFacts {
  switch (act.kind) {
    case 'dose-given': {
      const { queen, microlitres, at, exceptions } = act;
      const last = { queen, microlitres, at, exceptions };
      const tube = openAfter(facts, act);
      return { ...facts, last, tube, rack: drawnBy(facts, act), queue: withStatus(facts, act.queen, 'given') };
    }
    case 'collected':
      return { ...facts, rack: filledBy(facts, act) };
    case 'closed':
      return { ...facts, queue: withStatus(facts, act.queen, 'closed') };
    case 'not-done':
      return { ...facts, queue: withStatus(facts, act.queen, 'not-done') };
    case 'tip':
      return { ...facts, tip: act.tip };
    case 'capillary':
      return { ...facts, tube: act.tube };
    case 'exception': {
      const { last } = facts;
      if (last === null || last.queen !== act.queen || last.exceptions.includes(act.exception)) return facts;
      return { ...facts, last: { ...last, exceptions: [...last.exceptions, act.exception] } };
    }
    default:
      return facts;
  }
}

/** As it stood when she lay under the microscope, about to get the last of her dose: what a step back of the dose returns to. */
function underTheMicroscope(facts: BoardFacts, act: BenchAct): BoardFacts {
  if (act.kind !== 'dose-given' || !facts.queue.some(({ queen }) => queen === act.queen)) return facts;
  const draws = act.draws.slice(0, -1);
  const inHand = { queen: act.queen, by: 'queue', draws, exceptions: act.exceptions } as const;
  return { ...facts, dose: act.microlitres, inHand, rack: drawnBy(facts, { ...act, draws }) };
}

const steppable = (act: BenchAct): boolean => act.kind !== 'paused' && act.kind !== 'resumed' && act.kind !== 'stopped';

/**
 * The board after a reload or a kill, from what was recorded of this cross on this bench day: everyone who was done is done,
 * the same tube and tip are mounted, the next queen is the same, and every act can still be stepped back, one by one.
 * A queen who was in hand and not given yet is simply next again (carry her cage past, or press); stepping back a dose puts its
 * queen under the microscope again, as it would have without the reload.
 * @param setup as the board was first opened: the rack as it was then
 * @param acts all acts of this board in their order, steps back included
 */
export function resumeBoard(setup: BoardSetup, acts: readonly BenchAct[]): Board {
  const opened = openBoard(setup);
  let facts = opened.facts;
  const steps: Board['steps'][number][] = [];
  let collected: number[] = [];
  for (const act of standingActs(acts)) {
    const before = underTheMicroscope(facts, act);
    facts = applied(facts, act);
    const queen = 'queen' in act ? act.queen : null;
    const isPart = act.kind === 'collected' && !act.isShared;
    if (!isPart && steppable(act)) steps.push({ before, acts: [...collected, act.n], what: act.kind, queen });
    collected = isPart ? [act.n] : [];
  }
  const pauses = acts.filter((act) => act.kind === 'paused' || act.kind === 'resumed');
  const nextAct = acts.reduce((highest, act) => Math.max(highest, act.n), 0) + 1;
  return { ...opened, facts, steps, nextAct, isPaused: pauses.at(-1)?.kind === 'paused' };
}
