import { beforeEach, describe, expect, it } from 'vitest';
import { computeHere } from '#compute/here.ts';
import type { Moment } from '#units/moment.ts';
import type { Fresh } from '../../../tests/support/databases.ts';
import { databases } from '../../../tests/support/databases.ts';
import { does, portsOver } from '../../../tests/support/doing.ts';
import type { BookWorld } from '../book-world.ts';
import { readGiven } from '../given.ts';
import { oneLine, WrongInput } from '../wrong-input.ts';
import { seasonCommand } from './season.ts';

const on = (date: string) => ({ done: `${date}T10:00:00.000+02:00[Europe/Berlin]` as Moment });

let fresh: Fresh;
beforeEach(async () => {
  const [sqlite] = databases;
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const run = async (line: string) => {
  const world = { book: async () => portsOver(fresh.store, computeHere) } as unknown as BookWorld;
  return (await seasonCommand.run(readGiven(seasonCommand, line.split(' ')), world)).json as Record<string, unknown>;
};
const notesOf = async (line: string) => {
  const world = { book: async () => portsOver(fresh.store, computeHere) } as unknown as BookWorld;
  return (await seasonCommand.run(readGiven(seasonCommand, line.split(' ')), world)).notes ?? [];
};
const linesOf = (line: string) =>
  run(line).then(
    () => [],
    (error: unknown) => {
      if (error instanceof WrongInput) return error.problems.map(oneLine);
      throw error;
    },
  );

const queen = (code: string) =>
  does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-06-20' } }, on('2027-03-20'));
const begin = () =>
  does(fresh.store, 'begin-season', {
    name: '2027',
    from_on: '2027-06-10',
    to_on: '2027-06-20',
    queens_per_operator: 20,
  });

async function oneCross() {
  const [dam, mother] = [await queen('26-014'), await queen('R-07')];
  const cross = { code: 'A', queens_wanted: 6, dose_ul: 8 };
  await does(fresh.store, 'plan-cross', { cross, dams: [dam], drone_sources: [{ queen: mother }] }, on('2027-03-20'));
  return dam;
}

describe('the season by command', () => {
  it('proposes what the page proposes, by codes', async () => {
    await oneCross();
    await begin();
    const told = await run('--today 2027-03-22');
    expect(told).toMatchObject({ queens: 6, wanted: 6, clash: null });
    expect(told.bars).toMatchObject([{ dam: '26-014', uses: [{ cross: 'A', amount: 6 }] }]);
    expect(Number(told.gap)).toBeLessThan(0.01);
  }, 30_000);

  it('says what is wrong, one line each: no season, a dead mother, nothing to plan', async () => {
    expect(await linesOf('--today 2027-03-22')).toEqual(['found no season in the book; begin one: act begin-season']);
    await begin();
    expect(await linesOf('--today 2027-03-22')).toEqual(['found no cross to plan; No cross is free to be planned.']);
    const dam = await oneCross();
    const died = { queen: dam, kind: 'died', happened_on: '2027-03-21' };
    await does(fresh.store, 'record-fate', died, { ...on('2027-03-21'), happened: true });
    expect((await linesOf('--today 2027-03-22'))[0]).toContain('26-014 cannot be grafted from: she is gone');
  });

  it('names what does not go together when the day is too near', async () => {
    await oneCross();
    await begin();
    // The last day is 20 June: eggs for drones of 14 days then were due 24 + 14 days before, on 13 May, 19 days before 1 June.
    // From 1 June on: comb laid after 2 days, out 24 days later, ripe at 12: the earliest day is 38 days later, 9 July.
    const near = { cross: 'A', eggsDue: '2027-05-13', daysLate: 19, earliest: '2027-07-09', mothers: [] };
    const told = await run('--today 2027-06-01');
    expect(told).toMatchObject({ queens: 0, wanted: 6, clash: ['today'], tooNear: [near] });
    expect((await notesOf('--today 2027-06-01')).at(-1)).toBe(
      'cross A: Drone eggs should have been laid 19 days ago. The earliest day is 2027-07-09. No drones are on the way for that day.',
    );
  }, 30_000);

  it('offers no drones that are promised to another cross', async () => {
    await oneCross();
    await begin();
    const [mother] = (await fresh.store.read('all', (facts) => facts.find('queen', { code: 'R-07' }))).answer;
    const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' };
    const sides = { dams: [await queen('26-020')], drone_sources: [{ queen: mother?.id }] };
    const other = await does(fresh.store, 'plan-cross', { cross, ...sides }, on('2027-03-20'));
    const laid = { laid_from: '2027-05-02', laid_to: '2027-05-05', cross: other };
    const comb = { code: 'D-1', mother: mother?.id, in_on: '2027-04-29', ...laid };
    await does(fresh.store, 'record-drone-comb', comb, { ...on('2027-05-05'), happened: true });
    const told = (await run('--today 2027-06-01')) as { tooNear: { cross: string; mothers: unknown[] }[] };
    expect(told.tooNear).toMatchObject([{ cross: 'A', mothers: [] }]);
  }, 30_000);

  it('names the mature drones there are when the day is too near to raise any', async () => {
    await oneCross();
    await begin();
    const [mother] = (await fresh.store.read('all', (facts) => facts.find('queen', { code: 'R-07' }))).answer;
    const comb = {
      code: 'D-1',
      mother: mother?.id,
      in_on: '2027-04-29',
      laid_from: '2027-05-02',
      laid_to: '2027-05-05',
    };
    await does(fresh.store, 'record-drone-comb', comb, { ...on('2027-05-05'), happened: true });
    const told = (await run('--today 2027-06-01')) as { tooNear: { mothers: { mother: string; chance: number }[] }[] };
    expect(told.tooNear[0]?.mothers).toMatchObject([{ mother: 'R-07' }]);
    expect(told.tooNear[0]?.mothers[0]?.chance).toBeGreaterThan(0.5);
    expect((await notesOf('--today 2027-06-01')).at(-1)).toContain('Or these drones are on the way for that day: R-07');
  }, 30_000);
});
