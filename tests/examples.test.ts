/** The library of kinship and breeding values is documented by examples, and every example gives what it says. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { beforeAll, expect, test } from 'vitest';
import { type Documented, differs, documentedIn, libraryFiles, piecesOf, takeApart } from './support/examples.ts';

const files = libraryFiles();
const documented = files.filter((file) => documentedIn(file).length > 0);
const modules = new Map<string, Record<string, unknown>>();
beforeAll(async () => {
  for (const file of files) modules.set(file, await import(resolve(file)));
});

/** Public names of the whole library, those of one file before all others. */
function scopeOf(file: string): Map<string, unknown> {
  const scope = new Map<string, unknown>();
  for (const names of [...modules.values(), modules.get(file) ?? {}])
    for (const [name, value] of Object.entries(names)) scope.set(name, value);
  return scope;
}

/** What is wrong with the examples of one function; nothing, when each gives what it says. */
async function wrongIn({ file, name, line, examples }: Documented): Promise<string[]> {
  const at = `${file}:${line} ${name}`;
  if (examples.length === 0) return [`${at} has no @example: write one that ends with \`// what it gives\``];
  const wrong: string[] = [];
  for (const example of examples) {
    const parts = takeApart(example);
    const said = typeof parts === 'string' ? parts : await differs(parts, scopeOf(file));
    if (said !== null) wrong.push(`${at}: ${said}\n    ${example}`);
  }
  return wrong;
}

test.each(documented)('%s: every function has an example that holds', async (file) => {
  const wrong: string[] = [];
  for (const documented of documentedIn(file)) wrong.push(...(await wrongIn(documented)));
  expect(wrong).toEqual([]);
});

test.each([
  ['a number that is off in the last digit shown', 'Math.sqrt(2) // 1.4143', 'gave 1.414'],
  ['a list too short', '[1, 2] // [1]', 'gave [1,2]'],
  ['a field that differs', '({ low: 1, high: 2 }) // { low: 1, high: 3 }', 'gave {"low":1'],
  ['a throw that does not come', '1 // throws RangeError', 'threw nothing'],
  ['a value that is none', '1 // one', 'is no value'],
])('an example is found wrong: %s', async (_, example, said) => {
  const parts = takeApart(example);
  if (typeof parts === 'string') throw new Error(parts);
  expect(await differs(parts, new Map())).toContain(said);
});

test.each([
  ['Math.sqrt(2) // 1.4142'],
  ['Float64Array.of(1, 0.5) // [1, 0.5]'],
  ["const a = { b: 'c', d: 1 }; a // { b: 'c' }"],
  ["(() => { throw new RangeError('no'); })() // throws RangeError"],
])('an example holds: %s', async (example) => {
  const parts = takeApart(example);
  if (typeof parts === 'string') throw new Error(parts);
  expect(await differs(parts, new Map())).toBeNull();
});

const page = readFileSync('docs/library.md', 'utf8');

/** The worker file of the page, read by the loader of every script. */
function workerOfPage(): URL {
  const loader = pathToFileURL(createRequire(import.meta.url).resolve('tsx/esm/api')).href.replace(/cjs$/, 'mjs');
  const [, code = ''] = /^```ts worker\n([\s\S]*?)^```$/m.exec(page) ?? [];
  // what it imports is there only once the loader is: each import waits for it
  const later = code.replace(/^import (\{.*\}) from '(.*)';$/gm, (_, names, from) => {
    const found = from.startsWith('#') ? pathToFileURL(resolve(from.replace('#', 'src/'))).href : from;
    return `const ${names} = await import('${found}');`;
  });
  const start = `import { register } from '${loader}'; register();\n${later}`;
  return new URL(`data:text/javascript,${encodeURIComponent(start)}`);
}

const pieces = piecesOf(page);

test('the page about the library has six pieces, each with something to see', () => {
  expect(pieces.map(({ examples }) => examples.length > 0)).toEqual(Array(6).fill(true));
});

test.each([...pieces.keys()])('docs/library.md: piece %i gives what it says', { timeout: 60_000 }, async (k) => {
  const scope = new Map<string, unknown>([['workerFile', workerOfPage()]]);
  for (const { from, names } of pieces.slice(0, k + 1).flatMap(({ imports }) => imports)) {
    const held: Record<string, unknown> = await import(resolve(from.replace(/^#/, 'src/')));
    for (const name of names) {
      expect(held, `${from} gives ${name}`).toHaveProperty(name);
      scope.set(name, held[name]);
    }
  }
  const wrong: string[] = [];
  for (const example of pieces[k]?.examples ?? []) {
    const said = await differs(example, scope);
    if (said !== null) wrong.push(`line ${pieces[k]?.line}: ${example.asked} ${said}`);
  }
  expect(wrong).toEqual([]);
});

test('a piece of a page is found wrong, and its types do not stop it', async () => {
  const page = '# Page\n\n```ts\nconst twice = (x: number) => 2 * x;\ntwice(2); // 4\ntwice(3); // 5\n```\n';
  const [piece] = piecesOf(page);
  expect(piece?.line).toBe(4);
  expect(await Promise.all((piece?.examples ?? []).map((example) => differs(example, new Map())))).toEqual([
    null,
    'gave 6',
  ]);
});
