import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { compileMessage } from '@lingui/message-utils/compileMessage';
import { expect, test } from 'vitest';
import { actions } from '#actions/registry.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { questions } from '#questions/registry.ts';
import { day } from '#units/calendar-day.ts';
import { english } from '#words/en/all.ts';
import { sayProblem } from '#words/say.ts';

const words: Readonly<Record<string, string>> = english;

function files(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !/\.test\./.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name));
}

test('every problem our code can name has its sentence', () => {
  const codes = new Set<string>();
  for (const file of ['actions', 'gather', 'server', 'records', 'questions'].flatMap((folder) =>
    files(`src/${folder}`),
  ))
    for (const [, code] of readFileSync(file, 'utf8').matchAll(
      /\b(?:refuse|doubt|warn)\(\s*[^,()]*(?:\([^()]*\))?[^,()]*,\s*'([a-z0-9-]+)'/g,
    ))
      codes.add(code ?? '');
  for (const folder of ['pedigree', 'worth'])
    for (const file of files(`src/domain/${folder}`))
      for (const [, code] of readFileSync(file, 'utf8').matchAll(/'((?:pedigree|worth)-[a-z-]+)'/g))
        codes.add(code ?? '');
  expect(codes.size).toBeGreaterThan(10);
  expect([...codes].filter((code) => words[`problem.${code}`] === undefined)).toEqual([]);
});

test('descent that cannot be is told with both queens and both days', () => {
  const said = (queens: Parameters<typeof layPedigreeOf>[0]['queens']) =>
    layPedigreeOf({ queens, pools: [] }).problems.map(sayProblem);
  const mother = { id: 'm', code: '25-001', born: day('2025-05-01') };
  const daughter = { id: 'd', code: '24-007', born: day('2024-05-01') };
  expect(said([mother, { ...daughter, dam: 'm' }])).toEqual([
    '24-007 (2024-05-01) is older than her dam 25-001 (2025-05-01). Correct one of the two days, or the dam.',
  ]);
  expect(said([mother, { id: 'n', code: 'N', dam: 'm' }, { ...daughter, dam: 'n' }])).toEqual([
    '24-007 (2024-05-01) is older than her forebear 25-001 (2025-05-01). Correct a day, or the descent between the two.',
  ]);
});

test('every action has a name a person reads in the history', () => {
  expect([...actions.keys()].filter((name) => words[`action.${name}`] === undefined)).toEqual([]);
});

test('names of actions and questions are unlike each other', () => {
  expect(new Set([...actions.keys(), ...questions.keys()]).size).toBe(actions.size + questions.size);
});

test('every message can be read as ICU MessageFormat, with no straight apostrophe to swallow its braces', () => {
  for (const [id, message] of Object.entries(words)) {
    expect(() => compileMessage(message), id).not.toThrow();
    expect(message.includes("'"), `${id}: write ’`).toBe(false);
  }
});

test('sentences are short: 20 words at most (design measure 19)', () => {
  const long = Object.entries(words).flatMap(([id, message]) => {
    const plain = message.replace(/\{\w+, (plural|select)[\s\S]*\}/g, 'x').replace(/\{[^}]*\}/g, 'x');
    return plain
      .split(/[.!?:;…]\s|\n/)
      .filter((sentence) => sentence.trim().split(/\s+/).length > 22)
      .map((sentence) => `${id}: ${sentence}`);
  });
  expect(long).toEqual([]);
});

test('micro is U+00B5, the sign the type faces have', () => {
  expect(Object.entries(words).filter(([, message]) => message.includes('μ'))).toEqual([]);
});
