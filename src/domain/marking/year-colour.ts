/** The five colours of the international queen-marking order. */
export type MarkColour = 'white' | 'yellow' | 'red' | 'green' | 'blue';
/** The shape drawn with each colour, so that a mark can be told without seeing hue. */
export type MarkShape = 'circle' | 'triangle' | 'diamond' | 'square' | 'cross';

export type YearMark = { colour: MarkColour; shape: MarkShape };

const ORDER: readonly YearMark[] = [
  { colour: 'blue', shape: 'cross' },
  { colour: 'white', shape: 'circle' },
  { colour: 'yellow', shape: 'triangle' },
  { colour: 'red', shape: 'diamond' },
  { colour: 'green', shape: 'square' },
];

/**
 * The mark of queens that emerged in a calendar year: 1 and 6 white, 2 and 7 yellow, 3 and 8 red, 4 and 9 green, 5 and 0 blue
 * (the international order; the shapes are ours). The year is the calendar year also where the season runs over New Year.
 * Throws for anything but a whole year of 0 or more.
 * @example yearMark(2027) // { colour: 'yellow', shape: 'triangle' }
 */
export function yearMark(year: number): YearMark {
  const mark = Number.isInteger(year) && year >= 0 ? ORDER[year % ORDER.length] : undefined;
  if (mark === undefined) throw new RangeError(`not a calendar year: ${year}`);
  return mark;
}

/** The years of that colour from `from` to `to`, newest first: a mark alone does not tell which. */
export function yearsOf(colour: MarkColour, { from, to }: { from: number; to: number }): number[] {
  const years: number[] = [];
  for (let year = to; year >= from; year--) if (yearMark(year).colour === colour) years.push(year);
  return years;
}
