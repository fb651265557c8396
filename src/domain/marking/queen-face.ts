import { type MarkColour, yearMark } from './year-colour.ts';

/** The mark a queen wears, as it was seen; what is not known is `null`. */
export type WornMark = {
  colour: MarkColour | 'other' | 'none' | null;
  disc: number | null;
  clip: 'left' | 'right' | 'none' | null;
};

/** A colony (with its yard) or a cage a queen is in. */
export type Stand = { in: 'colony' | 'cage'; name: string; yard: string | null };

/** What a person recognises a queen by, wherever she is named. */
export type QueenFace = {
  id: string;
  /** Her keeper's code; `null` while she is only a bar and a cell, which then stand in `called`. */
  code: string | null;
  /** How she is called when she has no code: "bar 3, cell 7". */
  called: string | null;
  /** Calendar year she emerged, when known. */
  year: number | null;
  mark: WornMark | null;
  /** Name of her line. */
  line: string | null;
  /** Where she stands: a colony and its yard, or a cage. */
  stands: Stand | null;
  living: 'alive' | 'gone' | 'unknown';
};

/** The colour to draw for a queen: the one seen on her, else the one her year should have; `null` when neither is known. */
export function drawnColour({ year, mark }: Pick<QueenFace, 'year' | 'mark'>): MarkColour | null {
  const seen = mark?.colour ?? null;
  if (seen === 'none' || seen === 'other') return null;
  return seen ?? (mark === null || year === null ? null : yearMark(year).colour);
}
