import { language, say } from './say.ts';

/** Drones of one origin, as far as words need them. */
type WordedPart =
  | { from: 'mother'; name: string; sisters: number; share: number }
  | { from: 'batch'; name: string; share: number; parts: readonly WordedPart[] }
  | { from: 'open'; share: number };
type WordedSide = { oneOf: boolean; parts: readonly WordedPart[] };

/** A figure with so many decimals at most, in the person's number style. */
export const figure = (value: number, decimals = 2): string =>
  new Intl.NumberFormat(language(), { maximumFractionDigits: decimals }).format(value);

/** A share as "60 %". */
export const shareWords = (share: number): string =>
  new Intl.NumberFormat(language(), { style: 'percent', maximumFractionDigits: 0 }).format(share);

const listed = (parts: readonly string[], type: 'conjunction' | 'disjunction'): string =>
  new Intl.ListFormat(language(), { type }).format(parts);

function partWords(part: WordedPart): string {
  if (part.from === 'open') return say('drones.open');
  if (part.from === 'batch') return part.name;
  return part.sisters > 1 ? say('drones.sisters', { name: part.name, n: part.sisters }) : part.name;
}

/** A drone side in one line: "M-03", "M 60 %, N 40 %", "R-07 or R-09, rather R-07", "C-07 of M and N", "open mated". */
export function droneWords({ oneOf, parts }: WordedSide): string {
  const [first, second] = parts;
  if (first === undefined) return '';
  if (oneOf) {
    const names = listed(parts.map(partWords), 'disjunction');
    const clear = second !== undefined && first.share > second.share;
    return clear ? say('drones.rather', { names, likeliest: partWords(first) }) : names;
  }
  if (second !== undefined)
    return listed(
      parts.map((part) => `${partWords(part)} ${shareWords(part.share)}`),
      'conjunction',
    );
  if (first.from !== 'batch') return partWords(first);
  return say('drones.batch', { batch: first.name, of: listed(first.parts.map(partWords), 'conjunction') });
}

/** "sons of M-03 60 % and N-07 40 %"; drones of nobody known are said as they are. */
export function sonsWords(side: WordedSide): string {
  const words = droneWords(side);
  return side.parts.every(({ from }) => from === 'mother') ? say('descent.sons', { of: words }) : words;
}
