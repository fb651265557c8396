/** How times grow with the stock, measured and drawn on logarithmic scales as an SVG for docs/performance.md. */
import { writeFileSync } from 'node:fs';
import { layPedigree } from '#domain/pedigree/pedigree.ts';
import { breedingValues } from '#domain/worth/breeding-values.ts';
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
import { solveEquations } from '#domain/worth/solve-equations.ts';
import { inverseColumns } from '#numeric/recursion/inverse-columns.ts';
import { positivePart } from '#numeric/recursion/positive-part.ts';
import { median, times } from './_measure.ts';
import { fail, quick, say, thousands } from './_rows.ts';
import { oneTrait, simulateRecords, simulateStock } from './_stock.ts';

const PICTURE = 'docs/pictures/engine-growth.svg';

type Line = { name: string; colour: string; points: { queens: number; ms: number }[] };

/** Pedigree, inverse, breeding values and both kinds of reliability at rising sizes. */
function measured(): Line[] {
  const line = (name: string, colour: string): Line => ({ name, colour, points: [] });
  const lines = {
    pedigree: line('pedigree, with checks', '#7a5c00'),
    inverse: line('inverse of kinship', '#0b6e4f'),
    values: line('breeding values', '#1f4e9c'),
    near: line('approximate reliabilities', '#8a3ffc'),
    exact: line('exact reliabilities', '#b3261e'),
  };
  for (const queens of quick ? [1000, 3000] : [1000, 3000, 10_000, 30_000, 100_000, 300_000]) {
    const stock = simulateStock({ queens, mating: 'shared' });
    const repeats = queens > 30_000 ? 1 : 3;
    const time = (to: Line, run: () => void) => to.points.push({ queens, ms: median(times(repeats, run)) });
    time(lines.pedigree, () => layPedigree(stock));
    const pedigree = layPedigree(stock).pedigree ?? fail();
    const { recursion } = positivePart(pedigree.recursion);
    time(lines.inverse, () => inverseColumns(recursion));
    const records = simulateRecords(pedigree, oneTrait);
    const solve = () => solveEquations(makeEquations(descentOf(pedigree), records, oneTrait));
    time(lines.values, solve);
    const none = median(times(1, () => breedingValues(pedigree, records, oneTrait, { reliability: 'none' })));
    const kinds = [
      ['approximate', lines.near, 100_000],
      ['exact', lines.exact, 10_000],
    ] as const;
    for (const [reliability, to, most] of kinds) {
      if (queens > most) continue;
      const whole = median(times(1, () => breedingValues(pedigree, records, oneTrait, { reliability })));
      to.points.push({ queens, ms: Math.max(1, whole - none) });
    }
  }
  return Object.values(lines);
}

const [WIDTH, HEIGHT, LEFT, BOTTOM] = [640, 360, 70, 40];
const TOP_MS = 1e5;
const x = (queens: number) => LEFT + ((Math.log10(queens) - 3) / 2.6) * (WIDTH - LEFT - 190);
const y = (ms: number) => HEIGHT - BOTTOM - (Math.max(0, Math.log10(ms)) / Math.log10(TOP_MS)) * (HEIGHT - BOTTOM - 16);

function drawn(lines: readonly Line[]): string {
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="12" role="img">`,
    '<title>Time against number of queens, both on logarithmic scales</title>',
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>`,
  ];
  for (const [ms, label] of [
    [1, '1 ms'],
    [10, '10 ms'],
    [100, '0.1 s'],
    [1000, '1 s'],
    [10_000, '10 s'],
    [100_000, '100 s'],
  ] as const)
    parts.push(
      `<path d="M${LEFT} ${y(ms).toFixed(1)}H${WIDTH - 190}" stroke="#ddd"/><text x="${LEFT - 8}" y="${(y(ms) + 4).toFixed(1)}" text-anchor="end">${label}</text>`,
    );
  for (const queens of [1000, 10_000, 100_000])
    parts.push(
      `<text x="${x(queens).toFixed(1)}" y="${HEIGHT - 18}" text-anchor="middle">${thousands(queens)} queens</text>`,
    );
  const ends = lines
    .flatMap(({ points }, k) => points.slice(-1).map((point) => ({ k, at: y(point.ms) })))
    .sort((a, b) => a.at - b.at);
  let last = -20;
  const labelAt = new Map<number, number>();
  for (const { k, at } of ends) {
    last = Math.max(at, last + 15);
    labelAt.set(k, last);
  }
  for (const [k, { name, colour, points }] of lines.entries()) {
    const path = points.map(
      (point, i) => `${i === 0 ? 'M' : 'L'}${x(point.queens).toFixed(1)} ${y(point.ms).toFixed(1)}`,
    );
    parts.push(`<path d="${path.join('')}" fill="none" stroke="${colour}" stroke-width="2"/>`);
    for (const point of points)
      parts.push(`<circle cx="${x(point.queens).toFixed(1)}" cy="${y(point.ms).toFixed(1)}" r="3" fill="${colour}"/>`);
    parts.push(
      `<text x="${WIDTH - 182}" y="${((labelAt.get(k) ?? 0) + 4).toFixed(1)}" fill="${colour}">${name}</text>`,
    );
  }
  return `${parts.join('\n')}\n</svg>\n`;
}

/** Measures, says the exponent of each line, and with `--write` draws the picture. */
export function growth(): void {
  const lines = measured();
  for (const { name, points } of lines) {
    const [first, last] = [points[0], points.at(-1)];
    if (first === undefined || last === undefined || first === last) continue;
    const exponent = Math.log(last.ms / first.ms) / Math.log(last.queens / first.queens);
    say(
      `growth of ${name}: ${first.ms.toFixed(0)} ms at ${thousands(first.queens)}, ${last.ms.toFixed(0)} ms at ${thousands(last.queens)} queens; time grows with queens to the power ${exponent.toFixed(2)}`,
    );
  }
  if (process.argv.includes('--write')) writeFileSync(PICTURE, drawn(lines));
}
