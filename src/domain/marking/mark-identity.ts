import { type MarkColour, yearMark } from './year-colour.ts';

/** What is seen on a queen's back; either may be missing. */
export type SeenMark = { colour?: MarkColour; disc?: number };

/** A queen who bears or bore a mark. `colour` is the one seen when it was put on, not the one her year should have. */
export type MarkBearer = {
  queen: string;
  year: number;
  colour: MarkColour | null;
  disc: number | null;
  living: boolean;
};

const fits = (seen: SeenMark, bearer: MarkBearer): boolean =>
  (seen.colour === undefined || seen.colour === (bearer.colour ?? yearMark(bearer.year).colour)) &&
  (seen.disc === undefined || seen.disc === bearer.disc);

/**
 * Every queen a seen mark could be, living ones first, then the youngest. Colour and number come back every five years, so
 * this is a list to choose from and never an identity; where it holds more than one, the year must be shown.
 * A mark with neither colour nor number fits nobody.
 */
export function bearersOf(seen: SeenMark, bearers: readonly MarkBearer[]): MarkBearer[] {
  if (seen.colour === undefined && seen.disc === undefined) return [];
  return bearers
    .filter((bearer) => fits(seen, bearer))
    .sort((a, b) => Number(b.living) - Number(a.living) || b.year - a.year || (a.queen < b.queen ? -1 : 1));
}
