/**
 * Days of aftercare against the handbook: eggs 5-11 days after insemination, her first workers 21 days after the first egg
 * (Winston 1987, The Biology of the Honey Bee), a fair test from about 40 days on (Büchler et al. 2013, J. Apic. Res. 52(1) §3.1.4);
 * the dates are a worked example of the trade: graft 2025-05-20, insemination 06-08, eggs from 06-13, her workers from 07-04.
 */
import { expect, test } from 'vitest';
import { onDay } from '#domain/living/day-span.ts';
import { layingRecord } from '#domain/living/laying-record.ts';
import { usableDays } from '#domain/living/usable-window.ts';
import { whoseResult } from '#domain/living/whose-result.ts';
import { day } from '#units/calendar-day.ts';

const at = (on: string, sight: 'no-eggs' | 'eggs' | 'worker-caps') => ({
  day: day(on),
  sights: [sight],
  queenSeen: null,
});

test('inseminated 06-08, first eggs 06-13: her workers from 07-04, the colony hers from 07-23', () => {
  const record = layingRecord({
    checks: [at('2025-06-12', 'no-eggs'), at('2025-06-13', 'eggs'), at('2025-06-24', 'worker-caps')],
    since: day('2025-06-08'),
    isLost: false,
  });
  expect(record).toMatchObject({
    laying: 'yes',
    layingOn: '2025-06-24',
    began: { earliest: '2025-06-12', latest: '2025-06-13' },
  });
  const stay = {
    queen: 'Q',
    colony: 'C',
    cage: null,
    role: 'heads' as const,
    from: onDay(day('2025-06-10')),
    to: null,
  };
  const on = (date: string) =>
    whoseResult({ stay, laying: onDay(day('2025-06-13')) }, [], { from: day(date), to: day(date) });
  expect(['2025-07-03', '2025-07-04', '2025-07-22', '2025-07-23'].map(on)).toEqual([
    'not',
    'partly',
    'partly',
    'wholly',
  ]);
});

test('emerged 06-01: of age for insemination 06-06 to 06-15 (5-14 days; Cobey et al. 2013, J. Apic. Res. 52(4) §3.3)', () => {
  expect(usableDays(onDay(day('2025-06-01')), { from: 5, to: 14 }).all).toEqual({
    from: '2025-06-06',
    to: '2025-06-15',
  });
});

test('drone eggs 04-17 to 05-01 give drones of 14 to 28 days on 06-08 (24 days to emergence; NSW DPI DAI/112, 2002)', () => {
  const emerged = { earliest: day('2025-05-11'), latest: day('2025-05-25') };
  expect(usableDays(emerged, { from: 14, to: 28 }).all).toEqual({ from: '2025-06-08', to: '2025-06-08' });
});
