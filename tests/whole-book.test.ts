import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { bookTables } from '#records/book-tables.ts';
import { openSqlite } from '#storage/sqlite/open.ts';
import { readWholeBook } from '#storage/whole-book.ts';
import { writeExportTo, writeSafeCopy } from '../src/main/copies.ts';
import { openStore } from '../src/main/open-store.ts';
import { CannotRestore, restore } from '../src/main/restore.ts';
import { actNumbered, does, tryTo } from './support/doing.ts';
import { freshFolder, removeFolder } from './support/running-server.ts';

let folder: string;
let file: string;
beforeEach(() => {
  folder = freshFolder();
  file = join(folder, 'book.sqlite');
});
afterEach(() => removeFolder(folder));

async function fill(): Promise<void> {
  const store = await openStore({ file });
  const dam = await does(store, 'record-queen', {
    queen: { code: '=1+1', emerged: '2025-05-01' },
    mark: { colour: 'blue', disc: 14 },
  });
  await does(store, 'record-queen', { queen: { code: "'-odd", dam } });
  await does(store, 'record-note', {
    about_kind: 'queen',
    about: dam,
    words: 'first line\n"second", µl; Žužek № \t tab',
  });
  await does(store, 'record-yard', { name: '<img src=x onerror=alert(1)>', distance_km: -0.5 });
  await tryTo(store, 'step-back', { act: await actNumbered(store, 4) });
  await store.keepBytes('abc123', 'image/png', new Uint8Array([0, 1, 2, 255]));
  await store.close();
}

async function contents(of: string): Promise<Record<string, unknown[]>> {
  const db = openSqlite(of);
  const all: Record<string, unknown[]> = Object.fromEntries(bookTables.map(({ name }) => [name, []]));
  await readWholeBook(
    db,
    async ({ name }, rows) => void all[name]?.push(...rows.map((row) => ({ ...row, bytes: String(row.bytes ?? '') }))),
  );
  await db.close();
  return all;
}

describe('everything out, and in again', () => {
  for (const [kind, write] of [
    ['safe copy', (to: string) => writeSafeCopy({ file }, to)],
    ['export as a folder', (to: string) => writeExportTo({ file }, to)],
    ['export as a zip', (to: string) => writeExportTo({ file }, `${to}.zip`)],
  ] as const)
    test(`a ${kind} restores to the same records, acts and photos`, async () => {
      await fill();
      const before = await contents(file);
      const copy = join(folder, 'copy');
      await write(copy);
      const other = join(folder, 'elsewhere', 'book.sqlite');
      const { keptAs } = await restore(
        { file: other },
        kind.endsWith('zip') ? `${copy}.zip` : copy,
        join(folder, 'elsewhere'),
      );
      expect(keptAs).toBeNull();
      expect(await contents(other)).toEqual(before);
      const store = await openStore({ file: other });
      expect(await tryTo(store, 'step-back', { act: await actNumbered(store, 5) })).toMatchObject({ seq: 6 });
      await store.close();
    });

  test('the former book is kept under a name with the time', async () => {
    await fill();
    const copy = join(folder, 'copy.sqlite');
    await writeSafeCopy({ file }, copy);
    const store = await openStore({ file });
    await does(store, 'record-yard', { name: 'later' });
    await store.close();
    const { keptAs } = await restore({ file }, copy, folder);
    expect(keptAs).toMatch(/before-restore-\d{8}-\d{6}\.sqlite$/);
    expect((await contents(file)).act).toHaveLength(5);
    expect((await contents(keptAs ?? '')).act).toHaveLength(6);
  });

  test('cells a spreadsheet would run have one apostrophe, which our reading takes off', async () => {
    await fill();
    const to = join(folder, 'export');
    await writeExportTo({ file }, to);
    const queens = readFileSync(join(to, 'records/queen.csv'), 'utf8');
    expect(queens).toContain(`"'=1+1"`);
    expect(queens).toContain(`"''-odd"`);
  });

  test('the open form opens with general tools: python’s csv module reads every row (Python standard library)', async () => {
    await fill();
    const to = join(folder, 'export');
    await writeExportTo({ file }, to);
    const script = `import csv,json,sys
rows=list(csv.DictReader(open(sys.argv[1],newline='',encoding='utf-8')))
print(json.dumps([r['words'] for r in rows]))`;
    const said = spawnSync('python3', ['-c', script, join(to, 'records/note.csv')], { encoding: 'utf8' });
    if (said.error !== undefined) return;
    expect(JSON.parse(said.stdout)).toEqual(['first line\n"second", µl; Žužek № \t tab'.trim()]);
    const described = JSON.parse(readFileSync(join(to, 'datapackage.json'), 'utf8')) as {
      resources: { path: string }[];
    };
    for (const { path } of described.resources) expect(statSync(join(to, path)).isFile(), path).toBe(true);
  });
});

describe('a file from outside is never adopted', () => {
  const refusal = async (from: string) => {
    try {
      await restore({ file }, from, folder);
      return 'restored';
    } catch (error) {
      if (error instanceof CannotRestore) return error.message;
      throw error;
    }
  };
  let copies = 0;
  const copyWith = async (sql: string) => {
    await fill();
    const copy = join(folder, `copy-${copies++}.sqlite`);
    await writeSafeCopy({ file }, copy);
    const db = new DatabaseSync(copy);
    db.exec(sql);
    db.close();
    return copy;
  };

  test('foreign tables, triggers and views are refused', async () => {
    expect(await refusal(await copyWith('create table evil(x)'))).toContain('table "evil"');
    rmSync(file);
    expect(await refusal(await copyWith('create trigger t after insert on queen begin select 1; end'))).toContain(
      'trigger',
    );
    rmSync(file);
    expect(await refusal(await copyWith('create view v as select 1'))).toContain('view');
  });

  test('a book of a newer program, a damaged one, and what is no book at all are refused, and the book stays', async () => {
    expect(await refusal(await copyWith("update meta set value = '99' where name = 'schema'"))).toContain('newer');
    const text = join(folder, 'text');
    writeFileSync(text, 'this is not a database');
    expect(await refusal(text)).toContain('cannot be');
    const copy = join(folder, 'damaged.sqlite');
    await writeSafeCopy({ file }, copy);
    await expect(writeSafeCopy({ file }, copy)).rejects.toThrow('already');
    const bytes = readFileSync(copy);
    bytes.fill(0x55, 8_192, 40_960);
    writeFileSync(copy, bytes);
    expect(await refusal(copy)).toMatch(/damaged|cannot be read|malformed/);
    expect(await refusal(join(folder, 'nowhere'))).toContain('no file');
    expect((await contents(file)).act).toHaveLength(5);
  });

  test('rows that do not fit together are refused whole', async () => {
    const copy = await copyWith(
      "pragma foreign_keys=off; update queen set dam = '0190a000-0000-7000-8000-00000000dead' where dam is not null",
    );
    expect(await refusal(copy)).toContain('do not fit together');
    expect((await contents(file)).act).toHaveLength(5);
  });

  test('an export with a wrong cell names file, row and column', async () => {
    await fill();
    const to = join(folder, 'export');
    await writeExportTo({ file }, to);
    const yard = join(to, 'records/yard.csv');
    writeFileSync(
      yard,
      `${readFileSync(yard, 'utf8').replace(/\r\n$/, '')}\r\n"0190a000-0000-7000-8000-000000000001","x",,many,\r\n`,
    );
    expect(await refusal(to)).toMatch(/yard\.csv/);
  });

  test('refused while another process has the book open', async () => {
    await fill();
    const copy = join(folder, 'copy.sqlite');
    await writeSafeCopy({ file }, copy);
    const store = await openStore({ file });
    expect(await refusal(copy)).toContain('Another process');
    await store.close();
    expect(await refusal(copy)).toBe('restored');
  });

  test('a database of a newer program is refused by name when it is opened', async () => {
    await fill();
    const db = new DatabaseSync(file);
    db.exec("update meta set value = '99' where name = 'schema'");
    db.close();
    await expect(openStore({ file })).rejects.toThrow(/newer Combwright \(schema 99/);
    const other = join(folder, 'other.sqlite');
    const foreign = new DatabaseSync(other);
    foreign.exec('create table somebody_elses(x)');
    foreign.close();
    await expect(openStore({ file: other })).rejects.toThrow(/not Combwright's/);
  });

  test('the book and its folder are closed to other users', async () => {
    const closed = join(folder, 'data');
    mkdirSync(closed);
    const env = { ...process.env, COMBWRIGHT_DATA: closed, DATABASE_URL: '' };
    execFileSync(process.execPath, ['--import', 'tsx', 'src/main/combwright.ts', 'history'], { env, stdio: 'pipe' });
    expect(statSync(closed).mode & 0o777).toBe(0o700);
    expect(statSync(join(closed, 'combwright.sqlite')).mode & 0o777).toBe(0o600);
  });
});

const server = process.env.COMBWRIGHT_TEST_POSTGRES;
describe.skipIf(server === undefined)('a book on PostgreSQL', () => {
  const name = `whole_${process.pid}`;
  const url = () => {
    const there = new URL(server ?? '');
    there.pathname = `/${name}`;
    return there.href;
  };
  const asAdmin = async (sql: string) => {
    const client = new pg.Client({ connectionString: server });
    await client.connect();
    await client.query(sql);
    await client.end();
  };
  beforeEach(() => asAdmin(`create database ${name}`));
  afterEach(() => asAdmin(`drop database ${name} with (force)`));

  test('is copied into one file, restored from it, and kept under a name with the time', async () => {
    const store = await openStore({ url: url() });
    const dam = await does(store, 'record-queen', { queen: { code: 'A', emerged: '2025-05-01' } });
    await does(store, 'record-queen', { queen: { code: 'B', dam } });
    await store.close();
    const copy = join(folder, 'copy.sqlite');
    await writeSafeCopy({ url: url() }, copy);
    const again = await openStore({ url: url() });
    await does(again, 'record-yard', { name: 'later' });
    await expect(restore({ url: url() }, copy, folder)).rejects.toThrow('Another process');
    await again.close();
    const { keptAs } = await restore({ url: url() }, copy, folder);
    expect(keptAs).toMatch(/^before_restore_/);
    const restored = await openStore({ url: url() });
    expect(await restored.seq()).toBe(2);
    const { answer } = await restored.read(['queen'], (facts) => facts.find('queen', { dam }));
    expect(answer).toMatchObject([{ code: 'B' }]);
    await restored.close();
    await expect(restore({ url: url() }, join(folder, 'none'), folder)).rejects.toThrow('no file');
  });
});
