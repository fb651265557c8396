import type { Board, Label, QueueEntry } from './bench-board.ts';

/** What a presented label is to the open cross. */
export type Judgement =
  | { kind: 'queen'; entry: QueueEntry }
  | { kind: 'tube'; tube: string }
  /** Belongs to another cross, or to none we know (`belongsTo` null). `queen`: whose label it is, where the book knows. */
  | { kind: 'mismatch'; belongsTo: string | null; queen: string | null };

const isOf = (label: Label, entry: { queen: string; cage: string | null }): boolean =>
  label.kind === 'cage' ? entry.cage === label.id : entry.queen === label.id;

/**
 * Judges a presented cage, queen or tube against the open cross. Only its own queens and tubes fit; everything else, and a tube
 * that may not be used, is a mismatch, and is told where it belongs.
 */
export function judgeLabel(board: Board, label: Label): Judgement {
  if (label.kind === 'tube') {
    const own = board.facts.rack.find((tube) => tube.tube === label.id);
    if (own !== undefined && own.isBarred !== true) return { kind: 'tube', tube: label.id };
    const other = board.elsewhere.tubes.find((tube) => tube.tube === label.id);
    return { kind: 'mismatch', belongsTo: other?.cross ?? null, queen: null };
  }
  const entry = board.facts.queue.find((one) => isOf(label, one));
  if (entry !== undefined) return { kind: 'queen', entry };
  const other = board.elsewhere.queens.find((one) => isOf(label, one));
  return { kind: 'mismatch', belongsTo: other?.cross ?? null, queen: other?.queen ?? null };
}
