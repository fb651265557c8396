/** The library of kinship and breeding values is documented by examples, and every example gives what it says. */
import { resolve } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { type Documented, differs, documentedIn, libraryFiles, takeApart } from './support/examples.ts';

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
