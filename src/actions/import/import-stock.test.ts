import { createHash } from 'node:crypto';
import { writeXlsx } from 'hucre/xlsx';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { perform } from '#actions/mechanism/perform.ts';
import { actions } from '#actions/registry.ts';
import { computeIn } from '#compute/here.ts';
import { nodeComputations } from '#compute/node/computations.ts';
import type { ImportChoices } from '#domain/stock-book/choices.ts';
import type { Done, Refused } from '#ports/store.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { queenLeaf } from '#questions/stock/queen-leaf.ts';
import { type RehearsalAnswer, rehearseImport } from '#questions/stock/rehearse-import.ts';
import { stockBook } from '#questions/stock/stock-book.ts';
import type { KindName } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh, noon } from '../../../tests/support/databases.ts';
import { does, newId, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { messySheet } from '../../../tests/support/messy-sheet.ts';

const today = '2027-06-12' as Day;
let on: Fresh;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
});
afterEach(() => on.end());

const ports = () => portsOver(on.store, computeIn(nodeComputations));

async function upload(file: string | Uint8Array): Promise<string> {
  const bytes = typeof file === 'string' ? new TextEncoder().encode(file) : file;
  const hash = createHash('sha256').update(bytes).digest('hex');
  await on.store.keepBytes(hash, 'application/octet-stream', bytes);
  return hash;
}
async function rehearses(hash: string, choices: ImportChoices = {}) {
  const answered = await ask(rehearseImport, { hash, choices, today }, ports());
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer as RehearsalAnswer;
}
async function brings(hash: string, choices: ImportChoices = {}): Promise<Done | Refused> {
  const action = actions.get('import-stock');
  if (action === undefined) throw new Error('no action');
  return perform(
    action,
    { id: newId(), name: 'import-stock', input: { hash, choices }, done: noon, happened: true },
    ports(),
  );
}
async function broughtIn(text: string, answers: ImportChoices['answers'] = {}): Promise<Done> {
  const done = await brings(await upload(text), { answers });
  if ('problems' in done) throw new Error(JSON.stringify(done.problems));
  return done;
}
const book = async () => {
  const answered = await ask(stockBook, { today }, ports());
  if ('problems' in answered) throw new Error('no book');
  return answered.answer.queens;
};
const all = async (kind: KindName) => (await on.store.read('all', (facts) => facts.find(kind))).answer;

describe('bringing a table of queens', () => {
  test('writes queens, mothers, drones, marks, places, ends and notes as the rehearsal showed, as one act', async () => {
    const text = [
      'Queen;Mother;Born;Mated to;Inseminated;Dose;Colour;Disc;Line;Yard;Hive;State;Ended on;Comb',
      'M-03;;1.6.2024;;;;green;3;Birch;Mill;7;;;calm',
      '25-001;K-9;4.6.2025;M-03;14.6.2025;8,5;blue;1;Alder;Mill;7;;;',
      '25-002;K-9;4.6.2025;M-03 60 %, K-9 40 %;;;blue;2;Alder;Mill;8;superseded;1.9.2026;',
      '26-001;25-001;about 10 June 2026;open;;;white;1;Alder;Upper;9;alive;;',
    ].join('\n');
    const done = await broughtIn(text, { dronesName: 'drone-mother' });
    expect(done.result).toMatchObject({ queens: 4, made: 1, lines: 2, yards: 2, hives: 3, ended: 1 });
    const rows = new Map((await book()).map((row) => [row.code, row]));
    expect([...rows.keys()].sort()).toEqual(['25-001', '25-002', '26-001', 'K-9', 'M-03']);
    const her = rows.get('25-001');
    expect(her).toMatchObject({
      line: 'Alder',
      mark: { colour: 'blue', disc: 1 },
      stands: { in: 'colony', name: '7', yard: 'Mill' },
      dam: { name: 'K-9' },
      droneSide: { oneOf: false, parts: [{ name: 'M-03', share: 1 }] },
    });
    expect(rows.get('25-002')).toMatchObject({ living: 'gone', stands: null });
    expect(rows.get('25-002')?.droneSide?.parts).toMatchObject([{ share: 0.6 }, { share: 0.4 }]);
    expect(rows.get('26-001')).toMatchObject({
      emerged: '2026-06-10',
      about: 5,
      living: 'alive',
      dam: { name: '25-001' },
    });
    // The queen who headed hive 7 before left it at the latest when the next one emerged.
    expect(rows.get('M-03')?.stands).toBeNull();
    expect(await all('insemination')).toMatchObject([{ day: '2025-06-14', given_ul: 8.5 }, { day: null }]);
    expect(await all('note')).toMatchObject([{ words: 'Comb: calm' }]);
    expect((await on.store.acts({})).length).toBe(1);
  });

  test('one step back takes it all away again', async () => {
    await broughtIn('Queen;Mother;Line;Hive\nA1;;x;1\nA2;A1;x;2');
    const [act] = await on.store.acts({});
    await does(on.store, 'step-back', { act: act?.id });
    for (const kind of ['queen', 'line', 'colony', 'stay', 'setting'] as const)
      expect(await all(kind), kind).toEqual([]);
  });

  test('twelve sister drone mothers of a named queen; a mating place and its season; a line', async () => {
    await broughtIn('Queen;Born;Mated to\nS-44;1.6.2024;\n26-1x;1.6.2026;S-44', {
      dronesName: 'her-mother',
      sistersEach: 12,
    });
    expect(await all('sister_group')).toMatchObject([{ size: 12, dam_sure: 'known' }]);
    const side = (await book()).find(({ code }) => code === '26-1x')?.droneSide;
    expect(side?.parts).toMatchObject([{ from: 'mother', sisters: 12 }]);
    await broughtIn('Queen;Born;Mated to\n26-2x;1.6.2026;Island', { dronesName: 'place' });
    expect(await all('mating_season')).toMatchObject([{ year: 2026 }]);
    await broughtIn('Queen;Born;Mated to\n26-3x;1.6.2026;Birch', { dronesName: 'line' });
    expect((await all('line')).length).toBe(1);
  });

  test('the meaning of columns is remembered for the next time', async () => {
    const hash = await upload('Q;Z\nA1;Alder\nA2;Birch');
    await brings(hash, { columns: { 0: { meaning: 'code', split: null }, 1: { meaning: 'line', split: null } } });
    const again = await rehearses(await upload('Z;Q\nAlder;B1\nBirch;B2'));
    if (!('rehearsal' in again)) throw new Error('no rehearsal');
    expect(again.rehearsal.columns.map(({ meaning }) => meaning)).toEqual(['line', 'code']);
  });

  test('what does not fit refuses the whole, names row, column and what stands there, and writes nothing', async () => {
    const refused = await brings(await upload('Queen;Mother;Born\n26-1;;31.6.2026\n26-1;;1.6.2026'));
    expect(refused).toMatchObject({
      problems: [
        { path: 'rows.2.Born', code: 'row-impossible-day', values: { row: 2, column: 'Born', found: '31.6.2026' } },
        { path: 'rows.3.Queen', code: 'row-code-twice', values: { other: 2 } },
      ],
    });
    expect(await all('queen')).toEqual([]);
    expect(await brings('f'.repeat(64))).toMatchObject({ problems: [{ code: 'not-uploaded' }] });
    expect(await brings(await upload('a;"b\n1;2'))).toMatchObject({
      problems: [{ code: 'open-quote', values: { row: 1 } }],
    });
    expect(await brings(await upload('Line\nAlder\nBirch'))).toMatchObject({
      problems: [{ code: 'import-without-codes' }],
    });
    const unanswered = await brings(await upload('Queen;Mated to\nA1;\nA2;A1'));
    expect(unanswered).toMatchObject({
      problems: [{ code: 'import-not-answered', values: { question: 'drones-name' } }],
    });
  });

  test('a daughter older than her mother, kept as it is, stands under open worries', async () => {
    const text = 'Queen;Mother;Born\nA1;;10.6.2026\nA2;A1;5.6.2026';
    const done = await brings(await upload(text), { fixes: { 3: { accept: ['row-older-than-dam'] } } });
    expect('problems' in done).toBe(false);
    expect(await all('worry')).toMatchObject([{ code: 'daughter-older-than-dam' }]);
  });

  test('choices too long for an address come as kept text, and are checked like any other', async () => {
    const hash = await upload('Queen;Mother\nA1;x\nA2;A1');
    const asks = async (choices: string) => {
      const answered = await ask(rehearseImport, { hash, choices_kept: await upload(choices), today }, ports());
      return 'answer' in answered ? answered.answer : answered;
    };
    expect(await asks('{"fixes":{"2":{"out":true}}}')).toMatchObject({
      rehearsal: { counts: { queens: 1, leftOut: 1 } },
    });
    expect(await asks('{"fixes":{"two":{}}}')).toMatchObject({ problems: [{ weight: 'refuse' }] });
    expect(await asks('no JSON')).toMatchObject({ problems: [{ code: 'bad-json' }] });
  });

  test('bringing the same table again leaves out who is in the book', async () => {
    const text = 'Queen;Mother\nA1;\nA2;A1';
    await broughtIn(text);
    const again = await rehearses(await upload(`${text}\nA3;A2`));
    expect(again).toMatchObject({ rehearsal: { counts: { queens: 1, leftOut: 2 }, ready: true } });
    await broughtIn(`${text}\nA3;A2`);
    expect((await book()).find(({ code }) => code === 'A3')?.dam?.name).toBe('A2');
  });
});

describe('a workbook', () => {
  test('whose codes were turned into days and powers is mended with a yes; its own days and serial numbers are days', async () => {
    const workbook = await writeXlsx({
      sheets: [
        {
          name: 'Stock',
          rows: [
            ['Queen', 'Mother', 'Emerged', 'Note'],
            ['7-11', '', new Date(Date.UTC(2024, 5, 1)), "'=1+1"],
            [new Date(Date.UTC(2026, 4, 3)), '7-11', 46_175, ''],
            ['1.20E+04', '7-11', 'June 2026', ''],
          ],
        },
      ],
    });
    const hash = await upload(workbook);
    const rehearsed = await rehearses(hash);
    expect(rehearsed).toMatchObject({
      rehearsal: { questions: [{ id: 'code-days', rows: 2, dayMonth: '3-5', monthDay: '5-3' }, { id: 'seen-on' }] },
    });
    const done = await brings(hash, { answers: { codeDays: 'day-month' } });
    expect('problems' in done).toBe(false);
    const told = (await book()).map(({ code, emerged, about, dam }) => [code, emerged, about, dam?.name ?? null]);
    expect(told).toEqual([
      ['7-11', '2024-06-01', null, null],
      ['3-5', '2026-06-02', null, '7-11'],
      ['12E3', '2026-06-15', 15, '7-11'],
    ]);
    // The apostrophe that guards a formula is no part of the text.
    expect(await all('note')).toMatchObject([{ words: '=1+1' }]);
  });
});

describe('a messy sheet', () => {
  const answers = { codeSplit: 'disc', dronesName: 'drone-mother', seenOn: '2027-05-01' as Day } as const;
  const fixesFor = ({ slips }: ReturnType<typeof messySheet>): NonNullable<ImportChoices['fixes']> => ({
    [slips.codeTwice]: { set: { 0: '26-900/1' } },
    [slips.olderThanMother]: { note: [2] },
    [slips.impossibleDay]: { set: { 2: '30/06/2025' } },
    [slips.unknownMother]: { set: { 1: '24-005' } },
  });

  test('of 200 rows is brought in once its slips are mended; a descent leaf shows four generations', async () => {
    const sheet = messySheet();
    const done = await brings(await upload(sheet.text), { answers, fixes: fixesFor(sheet) });
    expect(done).toMatchObject({ result: { queens: 200, made: 0 } });
    const young = (await book()).filter(({ year }) => year === 2026).at(-1);
    const leaf = await ask(queenLeaf, { queen: young?.id as RecordId, today }, ports());
    if ('problems' in leaf || leaf.answer === null) throw new Error('no leaf');
    expect(leaf.answer.descent.dam?.dam?.name).toMatch(/^2\d-/);
  });

  test('of 5,000 rows is rehearsed and brought in within seconds (the 5 s of the issue are measured in npm run measure)', async () => {
    const sheet = messySheet(5_000);
    const hash = await upload(sheet.text);
    const first = performance.now();
    const rehearsed = await rehearses(hash, { answers });
    expect(rehearsed).toMatchObject({ rehearsal: { counts: { rows: 5_000 } } });
    const between = performance.now();
    const fixes = {
      ...fixesFor(sheet),
      [sheet.slips.unknownMother]: { set: { 1: '24-0005' } },
      [sheet.slips.codeTwice]: { set: { 0: '26-9000/1' } },
    };
    const done = await brings(hash, { answers, fixes });
    const end = performance.now();
    expect(done).toMatchObject({ result: { queens: 5_000 } });
    // Four times the aim: this machine may be busy with other tests.
    expect(between - first).toBeLessThan(20_000);
    expect(end - between).toBeLessThan(20_000);
  }, 60_000);
});

test('nothing of a breeder’s own is brought in while the made-up stock stands', async () => {
  const hash = await upload('queen;dam\nM1;\nD1;M1\n');
  const planted = await does(on.store, 'plant-sample', {});
  expect(planted).toBeDefined();
  for (const name of ['import-semen', 'import-records', 'import-outcomes'])
    expect(await tryTo(on.store, name, { hash })).toMatchObject({ problems: [{ code: 'sample-stands' }] });
  expect(await brings(hash)).toMatchObject({ problems: [{ code: 'sample-stands' }] });
  await does(on.store, 'remove-sample', {});
  expect(await brings(hash)).toMatchObject({ result: { queens: 2 } });
});
