/** Every schema a breeder's book may have is opened, brought up to date, read, written and stepped back by the program of now. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { ask } from '#questions/mechanism/ask.ts';
import { stockBook } from '#questions/stock/stock-book.ts';
import { migrations } from '#storage/migrations/all.ts';
import { openSqlite } from '#storage/sqlite/open.ts';
import { storeOver } from '#storage/store.ts';
import { uuid7 } from '#units/record-id.ts';
import { checkBook } from '../../src/main/check-book.ts';
import { clock } from '../support/databases.ts';
import { does, portsOver } from '../support/doing.ts';
import { after } from '../support/inseminated.ts';

/** Ids of later acts than those in the kept books. */
const later = (n: number) => ({ id: uuid7(1_990_000_000_000 + n, new Uint8Array(10).fill(n)) });

const here = 'tests/old-databases';
const kept = readdirSync(here).filter((name) => name.endsWith('.sqlite.gz'));

test('one is kept of every schema', () => {
  expect(kept.sort()).toEqual(migrations.map((_, i) => `schema-${i + 1}.sqlite.gz`).sort());
});

test.each(kept)('%s opens, is sound, answers, takes an act and steps an old one back', async (name) => {
  const folder = mkdtempSync(join(tmpdir(), 'combwright-old-'));
  const file = join(folder, 'book.sqlite');
  writeFileSync(file, gunzipSync(readFileSync(join(here, name))));
  const store = await storeOver(openSqlite(file), { clock, epoch: 'now' });
  const answered = await ask(stockBook, { today: after(3) }, portsOver(store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  const codes = answered.answer.queens.map(({ code }) => code);
  expect(codes).toEqual(expect.arrayContaining(['25-001', '27-001', '27-012']));

  const queens = codes.length;
  await does(store, 'record-queen', { queen: { code: '28-001', emerged: '2028-06-01' } }, later(1));
  const count = async () => (await store.read(['queen'], (facts) => facts.count('queen', {}))).answer;
  expect(await count()).toBe(queens + 1);
  // The first act of the old book is the dam of all: with her go the twelve; the new queen stays.
  const [dam] = (await store.acts({})).filter((act) => act.name === 'record-queen');
  await does(store, 'step-back', { act: dam?.id, with_later: true }, later(2));
  expect(await count()).toBe(1);
  await store.close();
  expect(await checkBook({ file })).toEqual([]);
  rmSync(folder, { recursive: true });
});
