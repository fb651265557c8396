import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { computeIn } from '#compute/here.ts';
import { nodeComputations } from '#compute/node/computations.ts';
import { readPedigree } from '#domain/pedigree/files/read-pedigree.ts';
import { coancestry } from '#domain/pedigree/kinship.ts';
import { kinshipReport } from '#domain/pedigree/kinship-report.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { gatherPedigree } from '#gather/pedigree.ts';
import type { KindName } from '#records/kinds.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { portsOver } from '../../../tests/support/doing.ts';
import type { BookWorld } from '../book-world.ts';
import { readGiven } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { importCommand } from './import.ts';

let on: Fresh;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
});
afterEach(() => on.end());

const encode = (text: string) => new TextEncoder().encode(text);

let acts = 0;
function worldOf(files: Readonly<Record<string, string>>): BookWorld {
  const never = () => Promise.reject(new Error('not in this test'));
  return {
    read: async (path) => encode(files[path] ?? ''),
    book: async () => ({
      ...portsOver(on.store, computeIn(nodeComputations)),
      random: { bytes: (n) => new Uint8Array(n).fill(++acts) },
    }),
    write: never,
    tell: () => undefined,
    serve: never,
    safeCopy: never,
    restore: never,
    export: never,
    checkBook: never,
  };
}
const run = (files: Readonly<Record<string, string>>, ...line: string[]) =>
  importCommand.run(readGiven(importCommand, line), worldOf(files));
async function refusal(files: Readonly<Record<string, string>>, ...line: string[]): Promise<string[]> {
  const error = await run(files, ...line).then(
    () => null,
    (thrown: unknown) => thrown,
  );
  if (!(error instanceof WrongInput)) throw new Error(`not refused: ${String(error)}`);
  return error.message.split('\n');
}
const all = async (kind: KindName) => (await on.store.read('all', (facts) => facts.find(kind))).answer;

const queens = [
  'queen,dam,born,mated_to,drones,semen,sisters,yard',
  'M,,2023-05-01,,,,,Mill',
  'N,,2023-05-02,,,,,',
  'A,,2023-05-03,M:0.6;N:0.4,8,,,',
  'B,A,2024-05-01,,,C1,,',
  'C,A,2024-05-02,,,C1,,',
  'D,B,2025-05-01,M:0.9;open:0.1,,,,',
  'G,M,2024-05-01,,,,4,',
  'E,C,2025-05-02,G,6,,,',
  'F,D,2026-05-02,M:0.7|N:0.3,10,,,',
].join('\n');
const semen = 'batch,source,share,drones\nC1,M,0.5,6\nC1,C0,,\nC0,N,,\nC0,open,0.25,4\n';

describe('import stock and semen', () => {
  test('the published columns come in as they are, and kinship is what the files themselves give', async () => {
    const stock = await run({ 'q.csv': queens }, 'stock', 'q.csv');
    expect(stock.json).toMatchObject({ kind: 'stock', dryRun: false, result: { queens: 8, groups: 1, notes: 1 } });
    expect((await run({ 's.csv': semen }, 'semen', 's.csv')).json).toMatchObject({ result: { batches: 2 } });
    const files = readPedigree({ name: 'q', bytes: encode(queens) }, { name: 's', bytes: encode(semen) });
    if (files.pedigree === null) throw new Error(JSON.stringify(files.problems));
    const report = kinshipReport(files.pedigree, { pairs: [], all: true });
    const { answer } = await on.store.read('all', (facts) => gatherPedigree(facts));
    const laid = layPedigreeOf(answer.facts);
    if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
    const { pedigree } = laid;
    const idOf = new Map(answer.facts.queens.map(({ id, code }) => [code, id]));
    for (const pair of report.pairs) {
      const found = coancestry(pedigree, idOf.get(pair.a) ?? '', idOf.get(pair.b) ?? '');
      expect(found, `${pair.a} ${pair.b}`).toBeCloseTo(pair.coancestry, 9);
    }
    expect(report.pairs).toHaveLength(36);
  });

  test('semen may come before or after the queens; filling a batch twice is refused', async () => {
    const first = 'queen,dam\nM,\nN,\n';
    await run({ 'q.csv': first }, 'stock', 'q.csv');
    await run({ 's.csv': semen }, 'semen', 's.csv');
    expect(await refusal({ 's.csv': semen }, 'semen', 's.csv')).toHaveLength(2);
    const problems = await refusal({ 's.csv': 'batch;source;share\nX;Nobody;0,5\nX;M;0,9\n' }, 'semen', 's.csv');
    expect(problems[0]).toMatch(/^s\.csv, row 2, column share: found "X"; The shares/);
    expect(await refusal({ 's.csv': 'batch,source\nX,Y\nY,X\n' }, 'semen', 's.csv')).toHaveLength(2);
    expect((await refusal({ 's.csv': 'batch,source\nX,Nobody\n' }, 'semen', 's.csv'))[0]).toContain(
      '"Nobody"; Nobody is no queen',
    );
  });

  test('what does not fit is named by file, row and column, and nothing is written', async () => {
    const named = async (text: string) => (await refusal({ 'q.csv': text }, 'stock', 'q.csv'))[0];
    expect(await named('queen,dam,born\nA,,2026-06-31\n')).toMatch(/^q\.csv, row 2, column born: found "2026-06-31"/);
    expect(await named('queen,dam\nA,\nB,A\nB,A\n')).toMatch(/^q\.csv, row 4, column queen: found "B"/);
    expect(await named('queen,dam\nA\n')).toMatch(/^q\.csv, row 2: found 1 fields/);
    const unknown = await refusal({ 'q.csv': 'queen,dam\nA,\nB,Z\n' }, 'stock', 'q.csv');
    expect(unknown[0]).toMatch(/^q\.csv, row 3, column dam: found "Z"; Z has no row/);
    expect((await refusal({ 'q.csv': 'queen,dam\nA,B\nB,A\n' }, 'stock', 'q.csv'))[0]).toMatch(/row \d, column dam/);
    expect((await refusal({ 'q.csv': '' }, 'stock', 'q.csv')).length).toBe(1);
    expect((await refusal({ 'q.csv': 'x' }, 'wombats', 'q.csv'))[0]).toContain(
      'expected one of stock, semen, records, outcomes',
    );
    expect(await all('queen')).toEqual([]);
  });

  test('a dry run checks everything and writes nothing', async () => {
    const dry = await run({ 'q.csv': queens }, 'stock', 'q.csv', '--dry-run');
    expect(dry.json).toMatchObject({ dryRun: true, result: { queens: 8 } });
    expect(await all('queen')).toEqual([]);
    expect(await on.store.acts({})).toEqual([]);
  });

  test('any other table comes in with its choices as JSON', async () => {
    const files = {
      'book.csv': 'Königin;Mutter;Schlupf;Vatervolk\n27-1;25-1;1.6.2027;M\n25-1;;;\nM;;;\n',
      'choices.json': JSON.stringify({ answers: { dronesName: 'drone-mother' } }),
    };
    expect((await refusal(files, 'stock', 'book.csv'))[0]).toContain('no answer to drones-name');
    expect((await run(files, 'stock', 'book.csv', '--choices', 'choices.json')).json).toMatchObject({
      result: { queens: 3, matings: 1 },
    });
    const bad = { ...files, 'choices.json': '{"answers":{"dronesName":"what"}}' };
    expect((await refusal(bad, 'stock', 'book.csv', '--choices', 'choices.json'))[0]).toContain('choices.json');
  });
});

describe('import records and outcomes', () => {
  test('scores of queens in yards and years; an unknown queen, a double row and a bad number are named', async () => {
    await run({ 'q.csv': 'queen,dam\nA,\nB,A\n' }, 'stock', 'q.csv');
    const text = 'queen,yard,year,honey,calm\nA,Mill,2026,41.5,\nB,Mill,2026,30,3\nB,Upper,2027,,4\n';
    expect((await run({ 'r.csv': text }, 'records', 'r.csv')).json).toMatchObject({ result: { rows: 3, scores: 4 } });
    expect(await all('yard')).toMatchObject([{ name: 'Mill' }, { name: 'Upper' }]);
    expect((await all('score')).length).toBe(4);
    const problems = await refusal(
      { 'r.csv': 'queen,yard,year,honey\nZ,Mill,2026,1\nA,Mill,next,x\nA,Mill,2026,1\nA,Mill,2026,2\n' },
      'records',
      'r.csv',
    );
    expect(problems.map((line) => line.slice(0, 26))).toEqual([
      'r.csv, row 2, column queen',
      'r.csv, row 3, column year:',
      'r.csv, row 3, column honey',
      'r.csv, row 5, column queen',
    ]);
    expect((await refusal({ 'r.csv': 'queen,year\nA,2026\n' }, 'records', 'r.csv'))[0]).toContain('column yard');
    expect((await refusal({ 'r.csv': 'queen,yard,year\nA,Mill\n' }, 'records', 'r.csv'))[0]).toContain('row 2');
  });

  test('outcomes become inseminations, looks and ends', async () => {
    await run({ 'q.csv': 'queen,dam\nA,\nB,A\nC,A\n' }, 'stock', 'q.csv');
    const text = [
      'queen,inseminated,operator,batch,tip,dose,laying,laying_on,checked_on,lost_on,brood,fate,co2',
      'A,2026-06-12,Ida,C-07,3,8,yes,2026-07-03,2026-07-20,,worker,,2',
      'B,2026-06-12,Ida,C-07,3,8,no,,2026-07-03,2026-07-10,drone,drone-layer,1',
      'C,2026-06-13,Bo,,,,,,2026-06-20,,,sold,',
    ].join('\n');
    expect((await run({ 'o.csv': text }, 'outcomes', 'o.csv')).json).toMatchObject({ result: { outcomes: 3 } });
    expect(await all('insemination')).toHaveLength(3);
    expect(await all('fate')).toMatchObject([{ kind: 'drone-layer', happened_on: '2026-07-10' }, { kind: 'sold' }]);
    expect((await all('laying_sight')).map((row) => (row as { saw?: string }).saw).sort()).toEqual([
      'drone-caps',
      'worker-caps',
    ]);
    expect((await refusal({ 'o.csv': 'queen,laying\nA,perhaps\n' }, 'outcomes', 'o.csv'))[0]).toBe(
      'o.csv, row 2, column laying: found "perhaps"; Write yes, no, or leave it empty.',
    );
    expect((await refusal({ 'o.csv': 'queen,laying\nZ,yes\n' }, 'outcomes', 'o.csv'))[0]).toContain('"Z"');
  });
});
