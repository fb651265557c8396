/** Invariant 9: whatever a screen can do or show, HTTP and the command line can too. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { actions } from '#actions/registry.ts';
import { commands } from '#cli/registry.ts';
import { questions } from '#questions/registry.ts';
import { describe } from '#server/describe.ts';

type Description = { openapi: string; paths: Record<string, object> };
let description: Description;
beforeAll(() => {
  description = describe(actions.values(), questions.values(), '0') as Description;
});

function declared(folder: string, maker: string): string[] {
  return readdirSync(`src/${folder}`, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts') && !entry.name.includes('.test.'))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((file) => !file.includes('mechanism'))
    .flatMap((file) => {
      const text = readFileSync(file, 'utf8');
      const made = [...text.matchAll(new RegExp(`\\b${maker}(?:<[^(]*>)?\\(`, 'g'))];
      return made.flatMap(({ index }) => /name:\s*'([a-z0-9-]+)'/.exec(text.slice(index, index + 400))?.[1] ?? []);
    });
}

test('every action and question that is written is in the registry', () => {
  expect(declared('actions', 'action').filter((name) => !actions.has(name))).toEqual([]);
  expect(declared('questions', 'question').filter((name) => !questions.has(name))).toEqual([]);
  expect(actions.size).toBeGreaterThan(20);
});

test('OpenAPI 3.1 lists every one', () => {
  expect(description.openapi).toBe('3.1.0');
  for (const name of actions.keys()) expect(description.paths).toHaveProperty([`/api/act/${name}`]);
  for (const name of questions.keys()) expect(description.paths).toHaveProperty([`/api/ask/${name}`]);
  expect(JSON.parse(JSON.stringify(description))).toEqual(description);
});

test('the command line does any action and asks any question', () => {
  const named = (name: string) => commands.find((command) => command.name === name);
  for (const name of actions.keys()) expect(named('act')?.positionals[0]?.what).toContain(name);
  for (const name of questions.keys()) expect(named('ask')?.positionals[0]?.what).toContain(name);
});
