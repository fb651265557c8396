import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Act, Change, Refused } from '#ports/store.ts';
import { rowOf } from '#records/kind.ts';
import { kindNames, kinds } from '#records/kinds.ts';
import { refuse } from '#units/problem.ts';
import { idWithin, type RecordId, uuid7 } from '#units/record-id.ts';
import { databases, type Fresh, noon } from '../support/databases.ts';

let n = 0;
const newId = (): RecordId => uuid7(1_800_000_000_000 + n++, new Uint8Array(10).fill(n % 256));
const act = (input: unknown = {}): Act => ({ id: newId(), name: 'test', input, done: noon });
const queen = (id: RecordId, code: string, dam: RecordId | null = null): Change => ({
  kind: 'queen',
  id,
  create: rowOf(kinds.queen, id, { code, dam }),
});
const nothing: Refused = { problems: [refuse('', 'test')] };

for (const { name, fresh, here } of databases)
  describe.skipIf(!here)(`the store on ${name}`, () => {
    let on: Fresh;
    beforeEach(async () => {
      on = await fresh();
    });
    afterEach(() => on.end());

    const record = (changes: Change[], the = act()) =>
      on.store.act(the, async (book) => {
        await book.write(changes);
        return { result: null, warnings: [] };
      });
    const codes = async () =>
      (await on.store.read(['queen'], (facts) => facts.find('queen'))).answer.map(({ code }) => code).sort();

    test('keeps a record with every kind of value, and gives it back equal', async () => {
      const id = newId();
      const whole = rowOf(kinds.cross, id, {
        code: 'B “Žužek” №',
        queens_wanted: 12,
        dose_ul: 8.55,
        drones: 0.1 + 0.2,
        inseminate_on: '2027-06-12' as never,
        cancelled: 0,
      });
      await record([{ kind: 'cross', id, create: whole }]);
      const { answer } = await on.store.read(['cross'], (facts) => facts.get('cross', id));
      expect(answer).toEqual(whole);
    });

    test('closing waits for an act and a question on their way', async () => {
      const id = newId();
      const again = await on.reopen();
      let asked: readonly (string | null)[] = [];
      const question = again.read(['queen'], async (facts) => {
        await new Promise((resolve) => setTimeout(resolve, 30));
        asked = (await facts.find('queen')).map(({ code }) => code);
      });
      const slow = again.act(act(), async (book) => {
        await book.write([queen(id, 'q')]);
        await question;
        await new Promise((resolve) => setTimeout(resolve, 30));
        return { result: null, warnings: [] };
      });
      // at once: neither may have reached the database yet
      await again.close();
      await Promise.all([question, slow]);
      expect(asked).toEqual([]);
      expect(await codes()).toEqual(['q']);
    });

    test('takes text in a number column from nobody', async () => {
      const id = newId();
      const bad = { ...rowOf(kinds.cross, id, { code: 'B', queens_wanted: 1, dose_ul: 8 }), queens_wanted: 'many' };
      await expect(record([{ kind: 'cross', id, create: bad as never }])).rejects.toThrow();
      expect(await on.store.seq()).toBe(0);
    });

    test('keeps a daughter written before her dam in one act, and refuses a dam that never comes', async () => {
      const [dam, daughter] = [newId(), newId()];
      await record([queen(daughter, 'd', dam), queen(dam, 'm')]);
      expect(await codes()).toEqual(['d', 'm']);
      await expect(record([queen(newId(), 'x', newId())])).rejects.toThrow();
      expect(await codes()).toEqual(['d', 'm']);
    });

    test('does an act once: the same again changes nothing, other content under its id is refused', async () => {
      const the = act({ a: 1, b: [2] });
      const id = newId();
      const first = await record([queen(id, 'q')], the);
      const again = await record([queen(id, 'q')], { ...the, input: { b: [2], a: 1 } });
      expect(first).toMatchObject({ seq: 1, again: false, touched: [{ kind: 'queen', ids: [id] }] });
      expect(again).toMatchObject({ seq: 1, again: true });
      const other = await record([queen(newId(), 'z')], { ...the, input: { a: 2 } });
      expect(other).toMatchObject({ problems: [{ code: 'act-id-used' }] });
      expect(await codes()).toEqual(['q']);
    });

    test('leaves everything as it was when the body refuses after writing, or throws', async () => {
      await on.store.act(act(), async (book) => {
        await book.write([queen(newId(), 'half')]);
        return nothing;
      });
      const thrown = on.store.act(act(), async (book) => {
        await book.write([queen(newId(), 'half')]);
        throw new Error('the body broke');
      });
      await expect(thrown).rejects.toThrow('the body broke');
      expect(await codes()).toEqual([]);
      expect(await on.store.seq()).toBe(0);
    });

    test('writes only changed fields into the journal, before and after', async () => {
      const id = newId();
      await record([queen(id, 'old')]);
      await record([{ kind: 'queen', id, set: { code: 'new', emerged_about: null } }]);
      await record([{ kind: 'queen', id, drop: true }]);
      const changes = await on.store.changes({ records: [id] });
      expect(changes.map(({ seq }) => seq)).toEqual([1, 2, 3]);
      expect(changes[0]?.before).toBeNull();
      expect(changes[1]).toMatchObject({ before: { code: 'old' }, after: { code: 'new' } });
      expect(Object.keys(changes[1]?.after ?? {})).toEqual(['code']);
      expect(changes[2]?.after).toBeNull();
      expect(changes[2]?.before).toMatchObject({ code: 'new' });
    });

    test('a body reads what it wrote', async () => {
      const id = newId();
      const done = await on.store.act(act(), async (book) => {
        await book.write([queen(id, 'q')]);
        await book.write([{ kind: 'queen', id, set: { code: 'q2' } }]);
        return { result: (await book.get('queen', id))?.code, warnings: [] };
      });
      expect(done).toMatchObject({ result: 'q2' });
      const [change] = await on.store.changes({ records: [id] });
      expect(change?.before).toBeNull();
      expect(change?.after).toMatchObject({ code: 'q2' });
    });

    test('finds by value, by several values, by what is not known; text is compared exactly', async () => {
      const ids = [newId(), newId(), newId()] as const;
      await record([queen(ids[0], 'a'), queen(ids[1], 'A', ids[0]), queen(ids[2], 'b', ids[0])]);
      const find = async (where: object) =>
        (await on.store.read(['queen'], (facts) => facts.find('queen', where))).answer.map(({ id }) => id);
      expect(await find({ code: 'a' })).toEqual([ids[0]]);
      expect(await find({ code: ['A', 'b'] })).toEqual([ids[1], ids[2]]);
      expect(await find({ dam: null })).toEqual([ids[0]]);
      expect(await find({ dam: ids[0], code: [] })).toEqual([]);
      const { answer } = await on.store.read(['queen'], (facts) => facts.count('queen', { dam: ids[0] }));
      expect(answer).toBe(2);
    });

    test('5,000 rows are one act, and reads are answered meanwhile', async () => {
      const acted = act();
      const changes = Array.from({ length: 5_000 }, (_, i) => queen(idWithin(acted.id, i), `q${i}`));
      const writing = record(changes, acted);
      const before = await on.store.read(['queen'], (facts) => facts.count('queen'));
      expect([0, 5_000]).toContain(before.answer);
      await writing;
      const many = changes.map(({ id }) => id);
      const { answer } = await on.store.read(['queen'], (facts) => facts.find('queen', { id: many }));
      expect(answer).toHaveLength(5_000);
    });

    test('a question that reads a kind it did not declare is stopped', async () => {
      await expect(on.store.read(['yard'], (facts) => facts.find('queen'))).rejects.toThrow('not declared');
    });

    test('two stores on one database: 60 acts each, none lost, numbers without a gap, both hear of the other', async () => {
      const other = await on.reopen();
      const heard: number[] = [];
      on.store.listen(({ seq }) => heard.push(seq));
      const write = (store: typeof other, mark: string) =>
        Array.from({ length: 60 }, (_, i) =>
          store.act(act(), async (book) => {
            await book.write([queen(newId(), `${mark}${i}`)]);
            return { result: null, warnings: [] };
          }),
        );
      const done = await Promise.all([...write(on.store, 'a'), ...write(other, 'b')]);
      const numbers = done.map((each) => ('seq' in each ? each.seq : -1)).sort((a, b) => a - b);
      expect(numbers).toEqual(Array.from({ length: 120 }, (_, i) => i + 1));
      expect(await codes()).toHaveLength(120);
      await expect.poll(() => Math.max(...heard), { timeout: 5_000 }).toBe(120);
      expect(await other.epoch()).toBe('test');
    });

    test('keeps bytes by their hash', async () => {
      const bytes = new Uint8Array([0, 255, 7]);
      await on.store.keepBytes('h', 'image/png', bytes);
      await on.store.keepBytes('h', 'image/png', bytes);
      expect(await on.store.bytes('h')).toEqual({ form: 'image/png', bytes });
      expect(await on.store.bytes('none')).toBeNull();
    });

    test('the tables are what records/ says they are', async () => {
      const tables = await on.db.reader.introspection.getTables();
      for (const kind of kindNames) {
        const columns = tables.find((table) => table.name === kind)?.columns ?? [];
        const stored = Object.fromEntries(
          columns.map(({ name: column, dataType, isNullable }) => [
            column,
            `${dataType.toLowerCase().replace('float8', 'real').replace('int4', 'integer')}${column !== 'id' && !isNullable ? '!' : ''}`,
          ]),
        );
        const written = Object.fromEntries(
          Object.entries(kinds[kind].fields).map(([field, { sql, needed }]) => [field, `${sql}${needed ? '!' : ''}`]),
        );
        expect(stored, kind).toEqual({ id: 'text', ...written });
      }
    });
  });
