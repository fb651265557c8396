import { afterEach, beforeEach, expect, test } from 'vitest';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { tryTo } from '../../../tests/support/doing.ts';

let on: Fresh;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
});
afterEach(() => on.end());

const [input, answer, other] = ['a', 'b', 'c'].map((digit) => digit.repeat(64)) as [string, string, string];
const given = {
  what: 'worth',
  version: '0.1.0',
  parameters: '{"choices":null}',
  fingerprint: input,
  answer_fingerprint: answer,
  seed: 1,
  input,
  answer,
};

test('a run is kept with all that is needed to work it out again', async () => {
  for (const hash of [input, answer])
    await on.store.keepBytes(hash, 'application/octet-stream', new Uint8Array([0x1f, 0x8b]));
  expect(await tryTo(on.store, 'keep-run', given)).toMatchObject({ result: { id: expect.any(String) } });
  const { answer: runs } = await on.store.read(['run'], (facts) => facts.find('run'));
  expect(runs[0]).toMatchObject(given);
  expect(runs[0]?.done).not.toBeNull();
});

test('without its input and answer, or with parameters nobody can read, it is refused', async () => {
  expect(await tryTo(on.store, 'keep-run', { ...given, answer: other })).toMatchObject({
    problems: [{ code: 'run-without-bytes' }],
  });
  for (const hash of [input, answer])
    await on.store.keepBytes(hash, 'application/octet-stream', new Uint8Array([0x1f, 0x8b]));
  expect(await tryTo(on.store, 'keep-run', { ...given, parameters: '{nothing' })).toMatchObject({
    problems: [{ code: 'bad-json' }],
  });
});

test('input and answer sent as plain text are refused: a run is kept packed', async () => {
  await on.store.keepBytes(input, 'application/octet-stream', new Uint8Array([0x1f, 0x8b]));
  await on.store.keepBytes(answer, 'application/json', new TextEncoder().encode('{}'));
  expect(await tryTo(on.store, 'keep-run', given)).toMatchObject({ problems: [{ code: 'run-not-packed' }] });
});
