import { describe, expect, test } from 'vitest';
import type { Command, World } from '../command.ts';
import { readGiven } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { breedingValuesCommand } from './breeding-values.ts';
import { kinship } from './kinship.ts';
import { variances } from './variances.ts';

const GOOD: Record<string, string> = {
  'q.csv':
    'queen,dam,born,mated_to,drones\nM,,2020-06-01,,\nA,M,2021-06-01,M,8\nB,M,2021-06-01,M,8\nC,A,2022-06-01,B,8\n',
  'r.csv': 'queen,yard,year,honey\nA,x,2025,40\nB,x,2025,30\nC,x,2025,35\n',
  'm.json': '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-2],[-2,4]],"R":[[10]]}',
};
const VARIANCES = '"G":[[6,-2],[-2,4]],"R":[[10]]';
const model = (variances: string, fixed = '["yard:year"]') => `{"traits":["honey"],"fixed":${fixed},${variances}}`;

const FILES = ['--queens', 'q.csv', '--records', 'r.csv', '--model', 'm.json'];

const run = (command: Command, files: Record<string, string>) => {
  const world: World = {
    read: async (path) => new TextEncoder().encode({ ...GOOD, ...files }[path] ?? ''),
    write: () => Promise.reject(new Error('no file is written')),
    tell: () => undefined,
  };
  const flags = command.name === 'kinship' ? ['--queens', 'q.csv', '--all'] : FILES;
  return command.run(readGiven(command, flags), world);
};

/** Every line of what is refused (exit 2 in the shell). */
async function refused(command: Command, files: Record<string, string>): Promise<string> {
  const error = await run(command, files).then(
    () => null,
    (thrown: unknown) => thrown,
  );
  if (!(error instanceof WrongInput)) throw new Error(`not refused: ${String(error)}`);
  return error.message;
}

describe.each([kinship, breedingValuesCommand, variances] as Command[])(
  '$name refuses descent that cannot be',
  (command) => {
    test.each([
      ['a loop', 'queen,dam\nA,B\nB,A\n', 'does not descend from herself'],
      ['a loop through drones', 'queen,dam,mated_to\nA,,C\nB,A,\nC,B,\n', 'does not descend from herself'],
      [
        'a mother younger than her daughter',
        'queen,dam,born\nA,B,2020-05-01\nB,,2021-05-01\n',
        'not before her dam was born',
      ],
      [
        'semen before its drone mother lived',
        'queen,dam,born,mated_to\nA,,2019-05-01,D\nB,A,2020-05-01,\nD,,2022-05-01,\n',
        'not before the mother of her father was born',
      ],
      ['a dam without a row', 'queen,dam\nA,Z\n', 'add a row for the dam or correct the code'],
      [
        'a grandmother younger than her granddaughter, past a dam without a day',
        'queen,dam,born\nA,B,2020-05-01\nB,C,\nC,,2021-05-01\n',
        'not before any of her forebears was born',
      ],
      ['a drone mother without a row', 'queen,mated_to\nA,Z\n', 'drone mother'],
      ['a batch without a row', 'queen,semen\nA,Z\n', 'batch'],
    ])('%s', async (_, queens, said) => {
      const told = await refused(command, { 'q.csv': queens });
      expect(told).toContain(said);
      expect(told).toMatch(/q\.csv, row \d+, column/);
    });
  },
);

describe.each([breedingValuesCommand, variances] as Command[])(
  '$name refuses records and models that do not fit',
  (command) => {
    test.each([
      [
        'a record of a queen without a row',
        { 'r.csv': 'queen,yard,year,honey\nZ,x,2025,40\n' },
        'r.csv, row 2, column queen',
      ],
      ['a trait nobody recorded', { 'r.csv': 'queen,yard,year,honey\nA,x,2025,\n' }, 'r.csv'],
      [
        'one of two traits nobody recorded',
        {
          'r.csv': 'queen,yard,year,honey,wax\nA,x,2025,40,\n',
          'm.json':
            '{"traits":["honey","wax"],"fixed":["yard:year"],"G":[[6,0,0,0],[0,4,0,0],[0,0,6,0],[0,0,0,4]],"R":[[10,0],[0,10]]}',
        },
        'take the trait out of the model',
      ],
      [
        'G that is not positive definite',
        { 'm.json': '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-9],[-9,4]],"R":[[10]]}' },
        'positive definite',
      ],
      [
        'variances no number can hold',
        { 'm.json': model('"G":[[1e300,0],[0,1e300]],"R":[[10]]') },
        'million million times',
      ],
      [
        'variances next to nothing',
        { 'm.json': model('"G":[[1e-300,0],[0,1e-300]],"R":[[10]]') },
        'residual variance of 10',
      ],
      ['a trait taken out by itself', { 'm.json': model(VARIANCES, '["honey"]') }, 'conditions colonies stood in'],
      ['every queen taken out', { 'm.json': model(VARIANCES, '["yard","queen:year"]') }, 'neither queen nor a trait'],
      ['a value no colony can have', { 'r.csv': 'queen,yard,year,honey\nA,x,2025,1e200\n' }, 'below 1e15'],
      ['a model that is not JSON', { 'm.json': '{"traits":["honey"],\n fixed}' }, 'not JSON ('],
      ['a column that is not there', { 'r.csv': 'queen,yard,year,wax\nA,x,2025,40\n' }, 'column honey'],
    ])('%s', async (_, files, said) => {
      expect(await refused(command, files as Record<string, string>)).toContain(said);
    });
  },
);

describe('what can be evaluated but says little is evaluated and warned of', () => {
  const warned = async (records: string, queens = GOOD['q.csv'] ?? '') => {
    const { json, notes } = await run(breedingValuesCommand, { 'r.csv': records, 'q.csv': queens });
    const { warnings, queens: values } = json as { warnings: string[]; queens: Iterable<{ asMotherOfQueens: number }> };
    expect([...values].every((one) => Number.isFinite(one.asMotherOfQueens))).toBe(true);
    expect(notes).toEqual(warnings);
    return warnings.join('\n');
  };
  test('one colony a yard-year', async () => {
    const said = await warned('queen,yard,year,honey\nA,x,2025,40\nB,y,2025,30\nC,z,2025,35\n');
    expect(said).toContain('3 of the yard-years hold one colony (x:2025, y:2025, z:2025)');
    expect(said).toContain('test at least 8 together');
  });
  test('records from before a queen lived, and words of the model nobody knows', async () => {
    const files = {
      'r.csv': 'queen,yard,year,honey\nA,x,2019,40\nB,x,2025,30\nC,x,2025,35\n',
      'm.json': model(`${VARIANCES},"fxed":["year"]`),
    };
    const { json } = await run(breedingValuesCommand, files);
    const said = (json as { warnings: string[] }).warnings.join('\n');
    expect(said).toContain('1 record from before the queen emerged (A 2019)');
    expect(said).toContain('the model says "fxed", which is none of traits, fixed, G, R, random, groups');
  });
  test('a trait in which all colonies are alike', async () => {
    const alike = 'queen,yard,year,honey\nA,x,2025,3\nB,x,2025,3\nC,x,2025,3\n';
    expect(await warned(alike)).toContain('honey: all colonies of a yard-year have the same value');
    const { json } = await run(variances, { 'r.csv': alike });
    expect(json).toMatchObject({ usable: false });
    expect((json as { warnings: string[] }).warnings[0]).toContain('there is no variance to estimate');
  });
  test('yards without a family in common', async () => {
    const queens = 'queen\nA\nB\nC\nD\n';
    const said = await warned('queen,yard,year,honey\nA,x,2025,40\nB,x,2025,30\nC,y,2025,35\nD,y,2025,31\n', queens);
    expect(said).toContain('2 sets without a family in common');
  });
});
