import type { Board, Label } from '#domain/insemination/bench-board.ts';
import type { KnownLabel } from '#questions/bench/board-labels.ts';

/**
 * Labels on the bench sheet that stand for keys: letters only, because a reader set to another keyboard writes other signs. On such a
 * keyboard Y and Z change places.
 */
const COMMAND = /^KE[YZ]([A-Z0-9]+)$/;

/** What a text that was read is: a label of the book, one the book does not know, or a command from the bench sheet. */
export type Resolved =
  | { kind: 'label'; label: Label; known: KnownLabel }
  | { kind: 'unknown'; text: string }
  | { kind: 'command'; command: string };

const plain = (text: string): string => text.trim().toUpperCase().replace(/\s+/g, ' ');

/** Kinds by the letter a printed label may begin with: `K:12` is cage 12, `Q:27-014` a queen, `T:C-07` a tube. */
const letters: Readonly<Record<string, KnownLabel['kind']>> = { K: 'cage', Q: 'queen', T: 'tube' };

function isOfBoard({ kind, id }: KnownLabel, { facts }: Board): boolean {
  if (kind === 'tube') return facts.rack.some(({ tube }) => tube === id);
  return facts.queue.some(({ queen, cage }) => (kind === 'queen' ? queen : cage) === id);
}

/** Finds what a presented text stands for. Where several things bear it, the one that belongs to the open cross is meant. */
export function resolveLabel(text: string, board: Board, labels: readonly KnownLabel[]): Resolved {
  const read = plain(text);
  const command = COMMAND.exec(read)?.[1];
  if (command !== undefined) return { kind: 'command', command };
  const [, letter = '', rest = ''] = /^([KQT]):(.+)$/.exec(read) ?? [];
  const wanted = letters[letter];
  const bare = wanted === undefined ? read : rest;
  const same = labels.filter((label) => plain(label.text) === bare && (wanted === undefined || label.kind === wanted));
  const known = same.find((label) => isOfBoard(label, board)) ?? same[0];
  if (known === undefined) return { kind: 'unknown', text: text.trim() };
  return { kind: 'label', label: { kind: known.kind, id: known.id }, known };
}
