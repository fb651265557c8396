import { type BenchEvent, type Board, type BoardFacts, nextInQueue, phaseOf, type QueueEntry } from './bench-board.ts';
import { type ExceptionKind, exceptionOfDigit, type NotDoneReason } from './exception.ts';
import { giveDose, nextTube } from './give-dose.ts';
import { nextPedal, type PedalEvent, type PedalMeaning } from './pedal.ts';
import { leaveStop, place, presentLabel } from './present-label.ts';
import { quiet, recordOnly, stepBack, type ToRecord, type Turn, takeStep } from './take-step.ts';

type Event<K extends BenchEvent['kind']> = Extract<BenchEvent, { kind: K }>;

/**
 * The bench board after an event: the new board, the acts to be recorded, the signs to give. Pure: time comes with the event,
 * nothing is read or written. Uneventful queens take one press with a reader (her cage carried past, press = given) and two
 * without (press = queen in, press = given).
 *
 * A STOP is left only by its two exits; a pause by a press or by pausing again. Whatever else comes meanwhile does nothing.
 */
export function nextState(board: Board, event: BenchEvent): Turn {
  switch (event.kind) {
    case 'down':
    case 'up':
    case 'tick':
    case 'lost':
      return byPedal(board, event);
    case 'taken-away':
    case 'it-has-happened':
      return leaveStop(board, event.kind, event.at);
    case 'pause':
      return board.stop === null ? pause(board, event.at) : quiet(board);
    default:
      return atWork(board, event);
  }
}

/** Pedal contacts, and what they come to mean. */
function byPedal(board: Board, event: PedalEvent): Turn {
  const { pedal, meanings } = nextPedal(board.pedal, event);
  let turn: Turn = quiet({ ...board, pedal });
  for (const meaning of meanings) {
    const next = meant(turn.board, meaning, event.at);
    turn = { board: next.board, acts: [...turn.acts, ...next.acts], signs: [...turn.signs, ...next.signs] };
  }
  return turn;
}

function meant(board: Board, meaning: PedalMeaning, at: number): Turn {
  const canStepBack = phaseOf(board) !== 'stopped' && board.steps.length > 0;
  switch (meaning) {
    case 'accept':
    case 'flag':
    case 'step-back':
      return atWork(board, { kind: meaning, at });
    case 'offer':
      return canStepBack ? quiet(board, 'offered') : quiet({ ...board, pedal: { ...board.pedal, offer: null } });
    case 'rising':
      return canStepBack ? quiet(board, 'rising') : quiet(board);
    case 'lapsed':
      return quiet(board, 'lapsed');
  }
}

function pause(board: Board, at: number): Turn {
  const isPaused = !board.isPaused;
  return recordOnly({ ...board, isPaused, also: null }, at, [{ kind: isPaused ? 'paused' : 'resumed' }]);
}

type Work = Exclude<BenchEvent, PedalEvent | Event<'taken-away' | 'it-has-happened' | 'pause'>>;

function atWork(board: Board, event: Work): Turn {
  const phase = phaseOf(board);
  if (phase === 'stopped') return quiet(board);
  if (phase === 'paused') return event.kind === 'accept' ? pause(board, event.at) : quiet(board);
  switch (event.kind) {
    case 'accept':
      return accept(board, event.at);
    case 'presented':
      return presentLabel(board, event.label, event.at);
    case 'step-back':
      return stepBack(board, event.at);
    case 'flag':
      return except(board, 'flagged', event.at);
    case 'exception':
      return except(board, event.exception, event.at);
    case 'digit': {
      const exception = exceptionOfDigit(event.digit);
      return exception === null ? quiet(board) : except(board, exception, event.at);
    }
    case 'not-done':
      return notDone(board, event.reason, event.at);
    case 'read-back':
      return quiet(board, 'read-back');
    default:
      return adjust(board, event);
  }
}

/** A press: the queen is in, or the dose is given. */
function accept(board: Board, at: number): Turn {
  const { inHand } = board.facts;
  if (inHand !== null) return giveDose(board, inHand, at);
  const next = nextInQueue(board.facts);
  return next === null ? quiet(board, 'nothing-waiting') : place(board, next, { by: 'queue', at });
}

/** Notes an exception: with the dose of the queen in hand, or late, of the queen just given. The same twice is once. */
function except(board: Board, exception: ExceptionKind, at: number): Turn {
  const { inHand, last } = board.facts;
  const sign = exception === 'flagged' ? 'flagged' : 'accepted';
  if (inHand !== null) {
    if (inHand.exceptions.includes(exception)) return quiet(board, sign);
    const facts = { inHand: { ...inHand, exceptions: [...inHand.exceptions, exception] } };
    return takeStep(board, { at, what: exception, queen: inHand.queen, facts, record: [], signs: [sign] });
  }
  if (last === null) return quiet(board, 'nothing-waiting');
  if (last.exceptions.includes(exception)) return quiet(board, sign);
  const facts = { last: { ...last, exceptions: [...last.exceptions, exception] } };
  const record: ToRecord[] = [{ kind: 'exception', queen: last.queen, exception }];
  return takeStep(board, { at, what: exception, queen: last.queen, facts, record, signs: [sign] });
}

/** The queen in hand, or the next in the queue, is not done, and the queue goes on. */
function notDone(board: Board, reason: NotDoneReason, at: number): Turn {
  const queen = board.facts.inHand?.queen ?? nextInQueue(board.facts);
  if (queen === null) return quiet(board, 'nothing-waiting');
  const queue = board.facts.queue.map(
    (entry): QueueEntry => (entry.queen === queen ? { ...entry, status: 'not-done' } : entry),
  );
  const facts = { queue, inHand: null, dose: board.usualDose };
  const record: ToRecord[] = [{ kind: 'not-done', queen, reason }];
  return takeStep(board, { at, what: 'not-done', queen, facts, record, signs: ['accepted'] });
}

/** Tip, capillary, dose, filling, gas, mark: what goes on around the queens. */
function adjust(
  board: Board,
  event: Extract<Work, { kind: 'tip' | 'capillary' | 'dose' | 'filled' | 'co2' | 'coded' }>,
): Turn {
  const { facts } = board;
  const queen = facts.inHand?.queen ?? facts.last?.queen ?? null;
  switch (event.kind) {
    case 'dose':
      return quiet({ ...board, facts: { ...facts, dose: Math.max(0, facts.dose + event.change) } });
    case 'capillary':
      return mount(board, event.tube ?? nextTube(facts), event.at);
    case 'filled':
      return filled(board, event);
    case 'tip':
      return noted(board, event.at, { kind: 'tip', tip: facts.tip + 1 }, { tip: facts.tip + 1 });
    case 'co2':
      return queen === null
        ? quiet(board, 'nothing-waiting')
        : noted(board, event.at, { kind: 'co2', queen, minutes: event.minutes });
    case 'coded': {
      if (queen === null) return quiet(board, 'nothing-waiting');
      const { code, disc, clip } = event;
      return noted(board, event.at, { kind: 'coded', queen, code, disc, clip });
    }
  }
}

const noted = (board: Board, at: number, act: ToRecord, facts: Partial<BoardFacts> = {}): Turn =>
  takeStep(board, {
    at,
    what: act.kind,
    queen: 'queen' in act ? act.queen : null,
    facts,
    record: [act],
    signs: ['accepted'],
  });

function mount(board: Board, tube: string | null, at: number): Turn {
  if (tube === null) return quiet(board, 'nothing-waiting');
  return presentLabel(board, { kind: 'tube', id: tube }, at);
}

/** Drones drawn into the tip: what they gave is shared by the queens until it is used up. */
function filled(board: Board, event: Event<'filled'>): Turn {
  const open = board.facts.rack.find((tube) => tube.tube === board.facts.tube);
  if (open?.collectFrom === null || open === undefined) return quiet(board, 'nothing-waiting');
  const left = event.microlitres === null ? open.left : Math.max(0, open.left ?? 0) + event.microlitres;
  const rack = board.facts.rack.map((tube) => (tube.tube === open.tube ? { ...tube, left } : tube));
  const { drones, microlitres } = event;
  const from = open.collectFrom.catch;
  const record: ToRecord = { kind: 'collected', tube: open.tube, catch: from, drones, microlitres, isShared: true };
  return noted(board, event.at, record, { rack });
}
