/**
 * The engine: kinship, breeding values, reliabilities, variances, as ratios to general solvers on the same stocks in the same run.
 * Run: npm run bench -- engine [--row=NAME,…] [--references] [--write] [--quick] [--cpu]. `--row` takes names of the list below or their beginnings;
 * `--write` puts the table into docs/performance.md; `--cpu` compares processor times instead of times on the clock, for a busy machine.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { growth } from './_engine-growth.ts';
import { factoring, reliabilities } from './_engine-inverse.ts';
import { files, kinship } from './_engine-kinship.ts';
import { severalTraits, values } from './_engine-values.ts';
import { threads, variances } from './_engine-variances.ts';
import { machine, ratioRow, table } from './_measure.ts';
import { add, big, notes, quick, rows, thousands } from './_rows.ts';

const hundred = quick ? 10_000 : 100_000;
const ten = quick ? 3000 : 10_000;
const thirty = quick ? 3000 : 30_000;

/** Breeding values of the largest stock, and how the number of steps grows up to it. */
function million(): void {
  const small = values(10_000, 'shared', null);
  const large = values(big, 'shared', { must: 0.09, aim: 0.02 });
  add(
    ratioRow(`iterations at ${thousands(big)} queens (${small.ours} at 10,000)`, {
      ours: large.ours,
      reference: large.jacobi,
      referenceName: 'Jacobi',
      unit: 'iterations',
      must: 0.12,
      aim: 0.05,
    }),
  );
}

/** Memory of equations and solver for the largest stock, in a process of its own. */
function memory(): void {
  const args = ['--expose-gc', '--import', 'tsx', 'bench/_memory.ts', String(big)];
  const held = Number(spawnSync(process.execPath, args, { encoding: 'utf8' }).stdout.split(' ')[0]);
  add({
    measure: `memory of equations and solver, ${thousands(big)} queens`,
    ours: `${held} MB`,
    reference: '–',
    ratio: null,
    must: '≤ 500 MB',
    aim: '–',
    held: held > 0 && held <= 500,
    aimed: null,
  });
}

const list: Readonly<Record<string, () => void | Promise<void>>> = {
  kinship,
  files,
  values: () => void values(hundred, 'shared', { must: 0.12, aim: 0.03 }),
  'values-batches': () => void values(hundred, 'batches', { must: 0.12, aim: 0.03 }),
  'values-no-variance': () => void values(hundred, 'own', { must: 0.12, aim: 0.03 }, 0.05),
  million,
  memory,
  traits: severalTraits,
  'cholesky-10000': () => factoring(ten, { must: 2, aim: 1 }),
  'cholesky-30000': () => factoring(thirty, { must: 3.5, aim: 1.5 }),
  reliabilities: () => reliabilities(thirty, 'shared'),
  // few mothers make the exact ones cheap, so that this stock is twice as large
  'reliabilities-batches': () => reliabilities(quick ? 3000 : 60_000, 'batches'),
  'variances-10000': () => variances(ten, { must: 3, aim: 0.8 }),
  'variances-30000': () => variances(thirty, { must: 1, aim: 0.15 }),
  threads,
  growth,
};

const asked = process.argv
  .find((word) => word.startsWith('--row='))
  ?.slice('--row='.length)
  .split(',');
for (const word of asked ?? []) {
  if (Object.keys(list).some((name) => name.startsWith(word))) continue;
  console.error(`no row is called ${word}; rows are ${Object.keys(list).join(', ')}`);
  process.exit(2);
}
for (const [name, run] of Object.entries(list)) {
  if (asked !== undefined && !asked.some((word) => name.startsWith(word))) continue;
  const from = performance.now();
  await run();
  console.log(`  (${name}: ${((performance.now() - from) / 1000).toFixed(1)} s in all)`);
}

console.log(`\n${machine()}\n${table(rows)}`);
const broken = rows.filter((row) => row.held === false);
console.log(broken.length === 0 ? 'every must that has a reference here holds' : `${broken.length} musts not held`);
if (process.argv.includes('--write')) {
  const path = 'docs/performance.md';
  const text = readFileSync(path, 'utf8');
  const [before = '', , after = ''] = text.split(/<!-- (?:table|end) -->/);
  const list = notes.map((note) => `- ${note}`).join('\n');
  const picture = 'pictures/engine-growth.svg';
  const drawing = existsSync(`docs/${picture}`)
    ? `\n\n![Time against the number of queens, both logarithmic](${picture})`
    : '';
  writeFileSync(
    path,
    `${before}<!-- table -->\n${machine()}\n\n${table(rows)}\n\n${list}${drawing}\n<!-- end -->${after}`,
  );
}
