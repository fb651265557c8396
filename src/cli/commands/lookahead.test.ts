import { expect, test } from 'vitest';
import type { World } from '../command.ts';
import { readGiven } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { lookahead } from './lookahead.ts';

const world: World = {
  read: () => Promise.reject(new Error('no file is read')),
  write: () => Promise.reject(new Error('no file is written')),
  tell: () => undefined,
};
const run = (...line: string[]) => lookahead.run(readGiven(lookahead, line), world);

test('the keys of the contract, cohort 0 to the last', async () => {
  const { json } = await run('--breeders', '8', '--cohorts', '6', '--replicates', '20');
  expect(json).toEqual({
    cohorts: Array.from({ length: 7 }, (_, cohort) => ({
      cohort,
      meanViability: expect.any(Number),
      sdOfMean: expect.any(Number),
      allelesLeft: expect.any(Number),
      coancestry: expect.any(Number),
      shareOfColoniesBelowLimit: expect.any(Number),
      probabilityMeanAboveLimit: expect.any(Number),
    })),
    effectiveSize: expect.any(Number),
  });
});

test('what is wrong is told', async () => {
  const error = await run('--breeders', '1', '--scheme', 'best', '--limit', '85').catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(WrongInput);
  expect((error as Error).message.split('\n')).toEqual([
    '--scheme: found "best"; expected random, one-daughter, rotation, pooled; see combwright lookahead --help',
    '--breeders: found 1; expected a number from 2 to 2000; see combwright lookahead --help',
    '--limit: found 85; expected a number from 0 to 1; see combwright lookahead --help',
  ]);
});
