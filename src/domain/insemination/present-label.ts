import type { Board, InHand, Label, QueueEntry } from './bench-board.ts';
import { changeTube, giveDose, spentTube } from './give-dose.ts';
import { judgeLabel } from './judge-label.ts';
import { quiet, recordOnly, type Turn, takeStep } from './take-step.ts';

/**
 * Puts a queen in hand. When nothing is left in the open tube by the book, the next one of the rack is opened with her, and said: so a day
 * can be worked with one pedal alone.
 */
export function place(board: Board, queen: string, how: { by: InHand['by']; at: number }): Turn {
  const inHand: InHand = { queen, by: how.by, draws: [], exceptions: [] };
  const opened = spentTube(board.facts);
  if (opened === null)
    return takeStep(board, { at: how.at, what: 'placed', queen, facts: { inHand }, record: [], signs: ['accepted'] });
  return takeStep(board, {
    at: how.at,
    what: 'placed',
    queen,
    facts: { inHand, tube: opened.next },
    record: [{ kind: 'capillary', tube: opened.next, was: opened.spent }],
    signs: ['accepted', 'next-tube'],
  });
}

/**
 * A label carried past the reader. A queen who waits is put in hand; one who was given her dose is going back in and her
 * record closes; a second cage before "given" opens and closes nothing and is only shown. A tube of the cross is mounted. What does
 * not belong to the open cross stops everything.
 */
export function presentLabel(board: Board, label: Label, at: number): Turn {
  const judged = judgeLabel(board, label);
  if (judged.kind === 'mismatch') {
    const inHand = board.facts.inHand?.queen ?? null;
    const stop = { label, belongsTo: judged.belongsTo, openCross: board.cross, inHand };
    return quiet({ ...board, stop }, 'mismatch');
  }
  if (judged.kind === 'queen') return presentQueen(board, judged.entry, at);
  return judged.tube === board.facts.tube ? quiet(board, 'accepted') : changeTube(board, judged.tube, at);
}

function presentQueen(board: Board, entry: QueueEntry, at: number): Turn {
  const { inHand } = board.facts;
  if (inHand?.queen === entry.queen) {
    return quiet({ ...board, facts: { ...board.facts, inHand: { ...inHand, by: 'label' } }, also: null }, 'accepted');
  }
  const isFree =
    inHand === null || (inHand.by === 'queue' && inHand.draws.length === 0 && inHand.exceptions.length === 0);
  if ((entry.status === 'waiting' || entry.status === 'not-done') && isFree) {
    return place(board, entry.queen, { by: 'label', at });
  }
  if (entry.status === 'given' && inHand === null) return close(board, entry.queen, at);
  return quiet({ ...board, also: entry.queen }, 'two-cages');
}

/** She went back in: exchanges happen on return, so this is what closes the record. */
function close(board: Board, queen: string, at: number): Turn {
  const queue = board.facts.queue.map(
    (entry): QueueEntry => (entry.queen === queen ? { ...entry, status: 'closed' } : entry),
  );
  return takeStep(board, {
    at,
    what: 'closed',
    queen,
    facts: { queue },
    record: [{ kind: 'closed', queen }],
    signs: ['accepted'],
  });
}

/** Leaves a STOP by one of its two exits. Nothing else leaves it. */
export function leaveStop(board: Board, exit: 'taken-away' | 'it-has-happened', at: number): Turn {
  const { stop } = board;
  if (stop === null) return quiet(board);
  const { label, belongsTo } = stop;
  const left = recordOnly({ ...board, stop: null }, at, [{ kind: 'stopped', label, belongsTo, exit }]);
  if (exit === 'taken-away') return left;
  const after = label.kind === 'tube' ? wrongTube(left.board, label.id, at) : wrongQueen(left.board, label, at);
  return { ...after, acts: [...left.acts, ...after.acts] };
}

/** A queen of another cross has got this cross's semen: recorded as hers, with the doubt. */
function wrongQueen(board: Board, label: Label, at: number): Turn {
  const judged = judgeLabel(board, label);
  const queen = judged.kind === 'mismatch' ? (judged.queen ?? label.id) : label.id;
  return giveDose(board, { queen, by: 'label', draws: [], exceptions: [] }, at);
}

/**
 * A tube of another cross has been used: on the queen in hand, whose dose it then is; else it is mounted and every dose out of
 * it carries the doubt until the tube is changed.
 */
function wrongTube(board: Board, tube: string, at: number): Turn {
  const { inHand, tube: own } = board.facts;
  if (inHand === null) return changeTube(board, tube, at);
  const given = giveDose({ ...board, facts: { ...board.facts, tube } }, inHand, at);
  const step = given.board.steps.at(-1);
  const steps = step === undefined ? [] : [...board.steps, { ...step, before: board.facts }];
  return { ...given, board: { ...given.board, steps, facts: { ...given.board.facts, tube: own } } };
}
