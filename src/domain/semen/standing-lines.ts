import { epochOf } from '#units/moment.ts';
import type { LedgerLine } from './ledger-line.ts';

/** A line that stands, with `root`: the id of the line first written, which doses and inseminations point to. */
export type StandingLine = LedgerLine & {
  root: string;
  /** Milliseconds since 1970 of its moment. */
  epoch: number;
};

/** The lines that stand, in the order things happened, and for every line ever written the root it belongs to. */
export type StandingLedger = { lines: readonly StandingLine[]; roots: ReadonlyMap<string, string> };

type Book = ReadonlyMap<string, { line: LedgerLine; place: number }>;

/** The line that was written first under a chain of corrections, and its place in the book. A loop of corrections ends where it began. */
function rootOf(line: LedgerLine, book: Book) {
  let found = { id: line.id, place: book.get(line.id)?.place ?? 0 };
  const seen = new Set([line.id]);
  for (let next = line.corrects; next !== null && !seen.has(next); ) {
    const earlier = book.get(next);
    seen.add(next);
    found = { id: next, place: earlier?.place ?? found.place };
    next = earlier?.line.corrects ?? null;
  }
  return found;
}

/**
 * The lines that stand, in the order things happened: by moment, and at one moment in the order they were written.
 * A corrected line gives way to the last line that corrects it (also over several steps); a correction keeps the place of
 * the line it corrects. `withdrawn` leaves nothing.
 * @param lines all ledger lines in the order they were written down
 */
export function standingLines(lines: readonly LedgerLine[]): StandingLedger {
  const book: Book = new Map(lines.map((line, place) => [line.id, { line, place }]));
  const latest = new Map<string, { line: StandingLine; place: number }>();
  const roots = new Map<string, string>();
  for (const line of lines) {
    const root = rootOf(line, book);
    roots.set(line.id, root.id);
    latest.set(root.id, { line: { ...line, root: root.id, epoch: epochOf(line.at) }, place: root.place });
  }
  const standing = [...latest.values()].filter(({ line }) => line.act.kind !== 'withdrawn');
  standing.sort((a, b) => a.line.epoch - b.line.epoch || a.place - b.place);
  return { lines: standing.map(({ line }) => line), roots };
}
