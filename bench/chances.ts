/**
 * The chance engine against one million drawn seasons (numpy; tests/golden/rearing/make_chances.py): largest difference beside the stated error, and time beside
 * the time the drawing takes where python3 with numpy is at hand.
 * Run: node --import tsx bench/chances.ts
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { queenShares, queensThrough } from '#domain/rearing/chances/queen-losses.ts';
import { chanceOfSemen, semenSupply } from '#domain/rearing/chances/semen-supply.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import { countAtLeast } from '#numeric/chance/count-chances.ts';
import { addDays, day } from '#units/calendar-day.ts';

type Golden = {
  queens: { larvae: number; daysBefore: number; ages: number[]; atLeast: number[][] }[];
  semen: { cells: number; laidFrom: number; laidTo: number; ages: number[]; volumeAtLeast: number[][] }[];
};

const STATED = 0.002;
const golden = JSON.parse(readFileSync('tests/golden/rearing/chances.json', 'utf8')) as Golden;
const on = day('2027-06-12');
const span = ([from = 0, to = 0]: number[]) => ({ from, to });

function worstQueens(): number {
  const differences = golden.queens.flatMap(({ larvae, daysBefore, ages, atLeast }) => {
    const shares = queenShares(standardText, { daysBefore, ages: span(ages) });
    const ready = queensThrough({ left: larvae, after: 'grafted' }, shares);
    return atLeast.map(([k = 0, chance = 0]) => Math.abs(countAtLeast(k, ready) - chance));
  });
  return Math.max(...differences);
}

function worstSemen(): number {
  const differences = golden.semen.flatMap(({ cells, laidFrom, laidTo, ages, volumeAtLeast }) => {
    const lot = {
      counted: 'cells' as const,
      count: cells,
      laidFrom: addDays(on, -laidFrom),
      laidTo: addDays(on, -laidTo),
    };
    const supply = semenSupply({ lots: [lot], on, ages: span(ages), profile: standardText });
    return volumeAtLeast.map(([volume = 0, chance = 0]) => Math.abs(chanceOfSemen(volume, supply) - chance));
  });
  return Math.max(...differences);
}

const [queens, semen] = [worstQueens(), worstSemen()];
const began = performance.now();
for (let i = 0; i < 5; i++) worstQueens() + worstSemen();
const ours = (performance.now() - began) / 5;
console.log(
  `largest difference: queens ${queens.toFixed(5)}, semen ${semen.toFixed(5)} (stated ${STATED}, of which 0.0015 is the drawing's own)`,
);
console.log(`all ${golden.queens.length} grafts and ${golden.semen.length} combs: ${ours.toFixed(0)} ms`);
const drawing = performance.now();
const drawn = spawnSync('python3', [
  '-c',
  'import runpy, pathlib; pathlib.Path.write_text = lambda *a: None; runpy.run_path("tests/golden/rearing/make_chances.py")',
]);
if (drawn.status === 0) {
  const theirs = performance.now() - drawing;
  console.log(
    `drawing a million seasons of each with numpy: ${theirs.toFixed(0)} ms; ours / drawing = ${(ours / theirs).toFixed(3)}`,
  );
}
process.exit(queens <= STATED && semen <= STATED ? 0 : 1);
