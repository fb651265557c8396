import { describe, expect, test } from 'vitest';
import type { World } from '../command.ts';
import { readGiven } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { laboratory } from './laboratory.ts';

const nothing: World = {
  read: () => Promise.reject(new Error('no file is read')),
  write: () => Promise.reject(new Error('no file is written')),
  tell: () => undefined,
};
const run = async (line: string) => (await laboratory.run(readGiven(laboratory, line.split(' ')), nothing)).json;

async function problemsOf(line: string) {
  try {
    await run(line);
  } catch (error) {
    if (error instanceof WrongInput) return error.problems.map((problem) => `${problem.column} ${problem.found}`);
    throw error;
  }
  return [];
}

describe('laboratory', () => {
  test('count: exactly the keys of the contract', async () => {
    expect(await run('count --counted 172 --counted-volume 0.04 --suspension 500')).toEqual({
      total: 2_150_000,
      cv: expect.closeTo(0.076249, 6),
      low: expect.closeTo(1_828_691, 0),
      high: expect.closeTo(2_471_309, 0),
      lowExact: expect.closeTo(1_840_690, 0),
      highExact: expect.closeTo(2_496_413, 0),
    });
    expect(await run('count --counted 100 --counted-volume 0.02 --suspension 1000 --dilution 2')).toMatchObject({
      total: 1e7,
    });
  });

  test('raw: a total no whole count gives is told as such (open drone-sperm data: six totals of 20,000, one of neither)', async () => {
    const raw = (total: number, volume = 0.04) =>
      run(`raw --total ${total} --counted-volume ${volume} --suspension 500`);
    expect(await raw(2_150_000)).toEqual({ count: 172, whole: true });
    expect(await raw(6_340_000)).toEqual({ count: expect.closeTo(507.2, 6), whole: false });
    expect(await raw(6_340_000, 0.025)).toEqual({ count: 317, whole: true });
    expect(await raw(2_881_500)).toMatchObject({ whole: false });
    expect(await raw(2_881_500, 0.025)).toMatchObject({ whole: false });
  });

  test('viability, column and saline', async () => {
    expect(await run('viability --live 168 --dead 32')).toEqual({
      live: 168,
      dead: 32,
      viability: 0.84,
      low: expect.closeTo(0.783, 3),
      high: expect.closeTo(0.884, 3),
    });
    expect(await run('column --bore 0.5 --volume 8')).toEqual({ lengthMm: expect.closeTo(40.74, 2) });
    const salts = (await run('saline --volume 100ml --recipe tris-buffered')) as {
      components: { millimolar: number }[];
    };
    expect(salts.components[0]?.millimolar).toBeCloseTo(188.2, 1);
    expect(await run('saline --volume 0.1l --recipe simple')).toMatchObject({ millilitres: 100 });
  });

  test('wrong input names the flag and what was found', async () => {
    expect(await problemsOf('weigh --live 1')).toEqual(['what "weigh"']);
    expect(await problemsOf('toString --live 1')).toEqual(['what "toString"']);
    expect(await problemsOf('viability --live 3')).toEqual(['--dead nothing']);
    expect(await problemsOf('viability --live 3 --dead 2 --bore 0.5')).toEqual(['--bore --bore']);
    expect(await problemsOf('viability --live 3.5 --dead 2')).toEqual(['--live "3.5"']);
    expect(await problemsOf('count --counted 1 --counted-volume 0 --suspension 500')).toEqual(['--counted-volume 0']);
    expect(await problemsOf('count --counted 1 --counted-volume 1 --suspension 5 --dilution 0.5')).toEqual([
      '--dilution 0.5',
    ]);
    expect(await problemsOf('column --bore=-1 --volume 8')).toEqual(['--bore -1']);
    expect(await problemsOf('column --bore 0.5 --volume much')).toEqual(['--volume "much"']);
    expect(await problemsOf('column --bore 0.5 --volume 0')).toEqual(['--volume "0"']);
    expect(await problemsOf('saline --volume 100ml --recipe secret')).toEqual(['--recipe "secret"']);
  });
});
