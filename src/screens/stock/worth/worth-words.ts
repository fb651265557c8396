import { ruleOf } from '#domain/scoring/trait.ts';
import type { ReliabilityKind } from '#domain/worth/breeding-values.ts';
import type { Criterion } from '#domain/worth/criteria.ts';
import type { Evaluation } from '#domain/worth/evaluation.ts';
import { language, say, sayAny } from '#words/say.ts';
import { traitName } from '../../yard/scores/traits.ts';

/** What is looked at: a trait, or (`null`) the index of all. */
export type Seen = string | null;

export const seenName = (seen: Seen): string => (seen === null ? say('worth.index') : traitName(seen));

const signed = (value: number, digits: number) =>
  new Intl.NumberFormat(language(), {
    maximumFractionDigits: digits,
    minimumFractionDigits: digits,
    signDisplay: 'exceptZero',
    useGrouping: false,
  }).format(value);

/** Digits and factor a difference of a trait is shown with. */
function shownAs(seen: Seen): { digits: number; times: number } {
  if (seen === null) return { digits: 2, times: 1 };
  const { unit } = ruleOf(seen);
  if (unit === 'part') return { digits: 1, times: 100 };
  if (unit === 'growth') return { digits: 4, times: 1 };
  return { digits: unit === 'points' || unit === 'ratio' ? 2 : 1, times: 1 };
}

/** A worth or difference in the trait’s own unit, with its sign and no unit. */
export function differenceFigure(seen: Seen, value: number): string {
  const { digits, times } = shownAs(seen);
  return signed(value * times, digits);
}

/** A standard deviation, without a sign. */
export const spreadFigure = (seen: Seen, value: number): string => differenceFigure(seen, value).replace('+', '');

/** A worth with its unit: "+3.2 kg". */
export function differenceWords(seen: Seen, value: number): string {
  const figure = differenceFigure(seen, value);
  return seen === null ? figure : sayAny(`score.unit.${ruleOf(seen).unit}`, { value: figure });
}

/** What the figures of a list without units are: "Figures are kilograms." */
export const figuresWords = (seen: Seen): string =>
  seen === null ? say('worth.figures-index') : sayAny(`worth.figures.${ruleOf(seen).unit}`);

const places = (value: number, digits: number) =>
  new Intl.NumberFormat(language(), { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(value);

/** A reliability 0-1, cut to two places so that it never reads 1; an approximate one with ≈ before it. */
export const reliabilityFigure = (reliability: number | null, kind: ReliabilityKind): string =>
  reliability === null ? '–' : `${kind === 'approximate' ? '≈ ' : ''}${places(Math.floor(reliability * 100) / 100, 2)}`;

/** Which kind the reliabilities of a run are; approximate ones with how far they are off in this very stock. */
export function reliabilityWords(
  { reliability, reliabilityError }: Pick<Evaluation, 'reliability' | 'reliabilityError'>,
  criterion: Criterion,
): string {
  const error = reliabilityError?.[criterion];
  if (error === undefined) return say(`worth.${reliability}`);
  return say('worth.approximate-error', {
    n: error.queens,
    usual: places(error.rootMeanSquare, 3),
    mean: `${error.bias < 0 ? '−' : '+'}${places(Math.abs(error.bias), 3)}`,
    most: places(error.largest, 3),
  });
}

export { traitName };
