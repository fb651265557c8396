/** House rules a machine can check. Each failure says what to do instead. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { pure } from '../layers.mjs';

type Source = { file: string; text: string };

function sources(folder: string, ending = /\.(ts|tsx)$/): Source[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && ending.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((file) => !file.includes('kernels/assembly') && !file.endsWith('.wasm.ts'))
    .map((file) => ({ file, text: readFileSync(file, 'utf8') }));
}

const isTest = ({ file }: Source) => /\.test\.tsx?$/.test(file);
const withoutComments = (text: string) => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:'"`])\/\/.*$/gm, '$1');
const offenders = (all: readonly Source[], pattern: RegExp, text = (source: Source) => withoutComments(source.text)) =>
  all.filter((source) => pattern.test(text(source))).map(({ file }) => file);

const everything = sources('src');
const product = everything.filter((source) => !isTest(source));
const pureFiles = product.filter(({ file }) => pure.some((folder) => file.startsWith(join('src', folder))));

test('pure folders never touch Date, Math.random, performance or Intl: pass the day, the seed, the words in', () => {
  expect(offenders(pureFiles, /\bnew Date\b|\bDate\.|Math\.random|\bperformance\b|\bIntl\b|toLocale/)).toEqual([]);
});

test('no any, no non-null, no default export, no switched-off check: name the type, handle the absence', () => {
  expect(offenders(product, /:\s*any\b|as any\b|<any>|@ts-ignore|@ts-expect-error|eslint-disable/)).toEqual([]);
  expect(offenders(product, /^export default/m)).toEqual([]);
});

test('numeric/ holds no trade word: general mathematics only', () => {
  const trade =
    /\b(bee|bees|queen|queens|drone|drones|colony|colonies|brood|semen|hive|hives|apiary|worker bee|graft|yard)\b/i;
  const numeric = sources('src/numeric');
  expect(offenders(numeric, trade, ({ text }) => text)).toEqual([]);
});

test('every folder of domain/ has its trade word in GLOSSARY.md', () => {
  const glossary = readFileSync('GLOSSARY.md', 'utf8').toLowerCase();
  const folders = readdirSync('src/domain', { withFileTypes: true }).filter((entry) => entry.isDirectory());
  const missing = folders.map(({ name }) => name).filter((name) => !glossary.includes(`\`${name}\``));
  expect(missing, 'add the folder, as `folder`, to its line of GLOSSARY.md').toEqual([]);
});

test('no file is longer than 400 lines: split it by what it does', () => {
  const long = product.filter(({ text }) => text.split('\n').length > 400).map(({ file }) => file);
  expect(long.filter((file) => !/migrations\/|words\//.test(file))).toEqual([]);
});

test('names say what a thing does: no Manager, Helper, Util, Service, Misc', () => {
  const names = everything
    .map(({ file }) => file)
    .filter((file) => /(manager|helper|utils?|service|misc)\b/i.test(file));
  expect(names).toEqual([]);
  expect(
    offenders(product, /\b(class|function|const|type|interface) \w*(Manager|Helper|Util|Utils|Service)\b/),
  ).toEqual([]);
});

test('nothing committed names a path of one machine, a registry, or the folder of the design', () => {
  const tracked = [
    ...everything,
    ...sources('tests'),
    ...sources('scripts', /\.mjs$/),
    ...sources('decisions', /\.md$/),
  ];
  const paths = /\/(root|home|Users)\/\w|\/work\/|registry\.npmjs/;
  const here = join('tests', 'tidy.test.ts');
  expect(
    offenders(
      tracked.filter(({ file }) => file !== here),
      paths,
      ({ text }) => text,
    ),
  ).toEqual([]);
});

test('a note is plain text: no raw HTML reaches a page', () => {
  expect(offenders(product, /dangerouslySetInnerHTML|\.innerHTML\b|insertAdjacentHTML|document\.write/)).toEqual([]);
});

test('every page of the project that a newcomer needs is there', () => {
  for (const page of ['README.md', 'ARCHITECTURE.md', 'GLOSSARY.md', 'CONTRIBUTING.md', 'CHANGELOG.md', 'LICENSE'])
    expect(existsSync(page), page).toBe(true);
});

test('every picture and page a document points to is there, and every kept picture is shown', () => {
  const pages = [...sources('docs', /\.md$/), ...sources('decisions', /\.md$/)];
  const roots = ['README.md', 'ARCHITECTURE.md', 'CONTRIBUTING.md', 'GLOSSARY.md', 'CHANGELOG.md'].map((file) => ({
    file,
    text: readFileSync(file, 'utf8'),
  }));
  const targets = [...pages, ...roots].flatMap(({ file, text }) =>
    [...text.matchAll(/\]\(([^)#\s]+)[^)]*\)/g)].map(([, target]) => ({ file, target: target as string })),
  );
  const own = targets.filter(({ target }) => !/^[a-z]+:/.test(target));
  expect(own.filter(({ file, target }) => !existsSync(join(dirname(file), target)))).toEqual([]);
  const shown = new Set(own.map(({ file, target }) => join(dirname(file), target)));
  const kept = readdirSync('docs/pictures').map((name) => join('docs', 'pictures', name));
  expect(kept.filter((name) => !shown.has(name))).toEqual([]);
});
