import { describe, expect, it } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { itsPlan, type PlannedOne } from './its-plan.ts';

const planned = (on: string, more: Partial<PlannedOne> = {}): PlannedOne => ({
  day: day(on),
  isNamed: false,
  isTicked: false,
  isLate: false,
  ...more,
});
const named = { isNamed: true };

/** Rules of matching are ours: no published source says which planned bar a graft is. */
const check = (plans: PlannedOne[], on: string, isCrossNamed: boolean, expected: string | undefined) =>
  expect(itsPlan(plans, { on: day(on), isCrossNamed })?.day).toBe(expected);

describe('which planned bar a graft is', () => {
  it('the nearest within five days where no cross is named', () => {
    check([planned('2027-05-25'), planned('2027-05-31')], '2027-05-27', false, '2027-05-25');
    check([planned('2027-05-25'), planned('2027-05-31')], '2027-05-29', false, '2027-05-31');
    check([planned('2027-05-25')], '2027-05-31', false, undefined);
  });

  it('the nearest of the named cross, however far off, early or late', () => {
    check([planned('2027-05-25', named), planned('2027-06-08', named)], '2027-06-01', true, '2027-05-25');
    check([planned('2027-06-08', named)], '2027-05-20', true, '2027-06-08');
  });

  it('never one of another cross than the named one', () => {
    check([planned('2027-05-25'), planned('2027-05-14', named)], '2027-05-25', true, '2027-05-14');
    check([planned('2027-05-25')], '2027-05-25', true, undefined);
  });

  it('a late one where no cross is named, unless a nearer one is planned', () => {
    const late = planned('2027-05-10', { isLate: true });
    check([late], '2027-05-25', false, '2027-05-10');
    check([late, planned('2027-05-28')], '2027-05-25', false, '2027-05-28');
    check([planned('2027-06-20')], '2027-05-25', false, undefined);
  });

  it('what was ticked long ago was done then', () => {
    check([planned('2027-05-25', { ...named, isTicked: true })], '2027-06-04', true, undefined);
    check([planned('2027-05-25', { ...named, isTicked: true })], '2027-05-27', true, '2027-05-25');
  });

  it('counts over the end of February and of the year', () => {
    check([planned('2028-02-27'), planned('2028-03-06')], '2028-03-02', false, '2028-02-27');
    check([planned('2027-12-30')], '2028-01-03', false, '2027-12-30');
  });
});
