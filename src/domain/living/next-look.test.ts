import { expect, it } from 'vitest';
import { addDays, day } from '#units/calendar-day.ts';
import { standardText } from '../rearing/standard-text.ts';
import type { Sight } from './check.ts';
import { nextLook } from './next-look.ts';

const on = day('2027-06-12');
const wish = { inseminate: on, queens: 12, profile: standardText };
const look = (days: number, ...sights: Sight[]) => ({ day: addDays(on, days), sights, queenSeen: null });
const next = (...checks: ReturnType<typeof look>[]) => {
  const found = nextLook(wish, checks);
  return found === null ? null : [found.key, found.from];
};

// Check days are common practice; caps from day 11 after eggs: drone cells are sealed on day 10 (stage tables, standard-text.ts).
it('looks for eggs, then for caps, then for her own workers', () => {
  expect(next()).toEqual(['egg-check', '2027-06-19']);
  expect(next(look(7, 'no-eggs'))).toEqual(['egg-check-2', '2027-06-22']);
  expect(next(look(7, 'no-eggs'), look(11, 'no-eggs'))).toEqual(['egg-check-3', '2027-06-26']);
  expect(next(look(7, 'eggs'))).toEqual(['brood-check', '2027-06-30']);
  expect(next(look(7, 'eggs'), look(18, 'worker-caps'))).toEqual(['own-workers', '2027-07-10']);
  expect(next(look(7, 'eggs'), look(18, 'worker-caps'), look(28, 'own-workers'))).toBeNull();
});

it('a nuc that was not opened was not looked at', () => {
  expect(next(look(7, 'not-opened'))).toEqual(['egg-check', '2027-06-19']);
});

it('after the last look without worker brood there is something to decide', () => {
  expect(next(look(22, 'no-eggs'))).toEqual(['decide', '2027-07-04']);
  expect(next(look(7, 'eggs'), look(18, 'several-in-a-cell'), look(28, 'eggs'))).toEqual(['brood-check', '2027-06-30']);
});

it('drone caps only are to be confirmed; worker caps seen later clear her', () => {
  expect(next(look(7, 'eggs'), look(18, 'drone-caps'))).toEqual(['confirm', '2027-06-30']);
  expect(next(look(7, 'eggs'), look(18, 'drone-caps'), look(22, 'worker-caps'))).toEqual(['own-workers', '2027-07-10']);
});
