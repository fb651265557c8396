import { describe, expect, test } from 'vitest';
import { type Day, day } from '#units/calendar-day.ts';
import type { LayingCheck, QueenSeen, Sight } from './check.ts';
import { askAbout, verdictOf } from './check-verdict.ts';
import { earlierSpan, laterSpan, onDay, shifted } from './day-span.ts';
import { queenMeant } from './identity.ts';
import { layingRecord } from './laying-record.ts';
import { isLoss, type LivingFacts, livingState } from './living-state.ts';
import { coverOf, type Stay } from './stay.ts';
import { queensInTwoPlaces } from './two-places.ts';
import { usableDays, usableOn } from './usable-window.ts';
import { queenOfReading, type Reign, whoseResult } from './whose-result.ts';

const look = (on: string, sights: Sight[], queenSeen: QueenSeen | null = null): LayingCheck => ({
  day: day(on),
  sights,
  queenSeen,
});
const facts = (told: Partial<LivingFacts>): LivingFacts => ({
  emerged: null,
  checks: [],
  fates: [],
  handled: [],
  notWatched: [],
  ...told,
});
const days = (from: string, to: string = from) => ({ from: day(from), to: day(to) });
const span = (earliest: string, latest: string) => ({ earliest: day(earliest), latest: day(latest) });

describe('living state', () => {
  test('nothing known is unknown, never alive by default', () => {
    expect(livingState(facts({}), day('2027-04-01'))).toMatchObject({ state: 'unknown', why: 'never-seen' });
  });

  test('seen within a season she lives; a season later nobody knows', () => {
    const seen = facts({ checks: [look('2026-08-12', ['eggs'], 'seen')] });
    expect(livingState(seen, day('2027-04-03'))).toMatchObject({ state: 'alive', lastSeen: '2026-08-12' });
    expect(livingState(seen, day('2027-05-09'))).toMatchObject({ state: 'alive' });
    expect(livingState(seen, day('2027-05-10'))).toMatchObject({ state: 'unknown', why: 'not-seen-for-a-season' });
  });

  test('odd record 10: a year not watched is no year of survival', () => {
    const seen = facts({
      handled: [day('2020-09-01')],
      notWatched: [{ from: day('2020-09-02'), to: day('2022-03-01') }],
    });
    expect(livingState(seen, day('2021-12-01'))).toMatchObject({ state: 'unknown', why: 'not-watched' });
  });

  test('odd record 4: disc last seen 12 August, unmarked queen found 3 April: superseded in that span', () => {
    const found = facts({ checks: [look('2027-04-03', ['eggs'], 'unmarked'), look('2026-08-12', [], 'seen')] });
    expect(livingState(found, day('2027-04-10'))).toMatchObject({
      state: 'gone',
      why: 'found-missing',
      end: { kind: 'superseded', on: span('2026-08-12', '2027-04-03'), derived: true, isLoss: true },
    });
    expect(livingState(found, day('2027-03-01')).state).toBe('alive');
  });

  test('found missing, but seen again: she lives', () => {
    const again = facts({ checks: [look('2027-06-01', ['queen-gone']), look('2027-06-05', [], 'seen')] });
    expect(livingState(again, day('2027-06-03'))).toMatchObject({ state: 'gone', end: { kind: 'lost' } });
    expect(livingState(again, day('2027-06-06')).state).toBe('alive');
  });

  test('a fate decides; sold, given and sampled are not losses; odd record 22: sampled at 48 h', () => {
    const sampled = facts({ handled: [day('2027-06-12')], fates: [{ kind: 'sampled', on: onDay(day('2027-06-14')) }] });
    expect(livingState(sampled, day('2027-06-20'))).toMatchObject({
      state: 'gone',
      end: { isLoss: false, derived: false },
    });
    expect(livingState(sampled, day('2027-06-13')).state).toBe('alive');
    expect((['died', 'superseded', 'drone-layer', 'sold', 'given'] as const).map(isLoss)).toEqual([
      true,
      true,
      true,
      false,
      false,
    ]);
  });

  test('seen after she was written off is doubted, not refused', () => {
    const ghost = facts({
      checks: [look('2027-07-01', [], 'seen')],
      fates: [{ kind: 'died', on: onDay(day('2027-06-14')) }],
    });
    expect(livingState(ghost, day('2027-08-01')).problems).toMatchObject([
      { code: 'seen-after-the-end', weight: 'doubt' },
    ]);
  });

  test('caps alone do not prove she lives: they are a week old and more', () => {
    const caps = facts({ checks: [look('2027-07-01', ['worker-caps'])] });
    expect(livingState(caps, day('2027-07-02')).state).toBe('unknown');
  });
});

describe('verdict of a look', () => {
  test.each<[Sight[], ReturnType<typeof verdictOf>]>([
    [['worker-caps', 'eggs'], 'laying'],
    [['own-workers'], 'laying'],
    [['drone-caps', 'eggs'], 'drone-layer'],
    [['drone-caps', 'worker-caps'], 'scattered-drone'],
    [['eggs'], 'eggs'],
    [['several-in-a-cell', 'eggs'], 'eggs-doubtful'],
    [['no-eggs', 'queen-cells'], 'no-eggs'],
    [['queen-gone', 'eggs'], 'gone'],
    [['another-queen', 'worker-caps'], 'another-queen'],
    [['not-opened'], 'not-looked'],
    [[], 'not-looked'],
  ])('%j is %s: laying means capped worker brood', (sights, verdict) => {
    expect(verdictOf(look('2027-06-25', sights))).toBe(verdict);
  });

  test('eggs before I + 2 ask whether it is the same queen; drone caps take her out until confirmed', () => {
    const codes = (check: LayingCheck) => askAbout(check, day('2027-06-12')).map((problem) => problem.code);
    expect(codes(look('2027-06-13', ['eggs']))).toEqual(['eggs-too-early']);
    expect(codes(look('2027-06-14', ['eggs']))).toEqual([]);
    expect(codes(look('2027-07-01', ['drone-caps', 'queen-cells']))).toEqual([
      'drone-layer-to-confirm',
      'queen-cells-seen',
    ]);
    expect(askAbout(look('2027-06-13', ['eggs']), null)).toEqual([]);
  });
});

describe('laying record', () => {
  const since = day('2027-06-12');
  const record = (checks: LayingCheck[], isLost = false) => layingRecord({ checks, since, isLost });

  test('not yet known, until capped worker brood is seen', () => {
    expect(record([]).laying).toBeNull();
    expect(record([look('2027-06-20', ['no-eggs']), look('2027-06-24', ['eggs'])])).toMatchObject({
      laying: null,
      began: span('2027-06-20', '2027-06-24'),
      brood: 'unknown',
      checkedOn: '2027-06-24',
    });
    expect(record([look('2027-07-04', ['worker-caps']), look('2027-06-24', ['eggs'])])).toMatchObject({
      laying: 'yes',
      layingOn: '2027-07-04',
      brood: 'worker',
      began: span('2027-06-12', '2027-06-24'),
    });
  });

  test('a drone layer is a failure; worker caps later are laying after all', () => {
    const drone = look('2027-07-04', ['drone-caps']);
    expect(record([drone])).toMatchObject({ laying: 'no', brood: 'drone', isDroneLayer: true, layingOn: null });
    expect(record([drone, look('2027-07-12', ['worker-caps'])])).toMatchObject({ laying: 'yes', isDroneLayer: false });
    expect(record([look('2027-07-04', ['worker-caps']), look('2028-05-01', ['drone-caps'])])).toMatchObject({
      laying: 'yes',
      layingOn: '2027-07-04',
      isDroneLayer: true,
    });
  });

  test('lost without worker brood is no; another queen’s brood is not hers; looks before the insemination do not count', () => {
    expect(record([look('2027-06-20', ['no-eggs'])], true)).toMatchObject({ laying: 'no', brood: 'none' });
    expect(record([look('2027-07-04', ['another-queen', 'worker-caps'])]).laying).toBeNull();
    expect(record([look('2027-06-01', ['worker-caps'])])).toMatchObject({ laying: null, checkedOn: null });
  });
});

describe('two places at once', () => {
  const stay = (colony: string, from: string, to: string | null, told: Partial<Stay> = {}): Stay => ({
    queen: 'Q',
    colony,
    cage: null,
    role: 'heads',
    from: onDay(day(from)),
    to: to === null ? null : onDay(day(to)),
    ...told,
  });

  test('doubted only where both stays are sure; the day of a move and a span have the benefit', () => {
    expect(queensInTwoPlaces([stay('A', '2027-05-01', null), stay('B', '2027-06-01', null)])).toMatchObject([
      { code: 'queen-in-two-places', values: { queen: 'Q', one: 'colony A', other: 'colony B' }, weight: 'doubt' },
    ]);
    expect(queensInTwoPlaces([stay('A', '2027-05-01', '2027-06-01'), stay('B', '2027-06-01', null)])).toEqual([]);
    const unsure = stay('A', '2027-05-01', null, { to: span('2027-05-20', '2027-07-01') });
    expect(queensInTwoPlaces([unsure, stay('B', '2027-06-01', null)])).toEqual([]);
    expect(queensInTwoPlaces([stay('A', '2027-05-01', null), stay('A', '2027-06-01', null)])).toEqual([]);
  });

  test('cover of a span by a stay: all, some, none', () => {
    const one = stay('A', '2027-05-01', null, { to: span('2027-06-01', '2027-07-01') });
    expect(coverOf(one, day('2027-05-01'), day('2027-06-01'))).toBe('all');
    expect(coverOf(one, day('2027-05-01'), day('2027-06-02'))).toBe('some');
    expect(coverOf(one, day('2027-07-02'), day('2027-08-02'))).toBe('none');
  });
});

describe('odd record 9: two queens exchanged at caging on 4 June, noticed on 20 July', () => {
  const exchanges = [{ one: '27-015', other: '27-016', exchanged: day('2027-06-04'), noticed: day('2027-07-20') }];

  test('what was written between is the other’s; before and after it stands; nothing is overwritten', () => {
    const meant = (queen: string, on: string | null) => queenMeant(queen, on as Day | null, exchanges);
    expect(meant('27-015', '2027-06-03')).toBe('27-015');
    expect(meant('27-015', '2027-06-04')).toBe('27-016');
    expect(meant('27-016', '2027-07-10')).toBe('27-015');
    expect(meant('27-016', '2027-07-20')).toBe('27-016');
    expect(meant('27-099', '2027-06-10')).toBe('27-099');
    expect(meant('27-015', null)).toBe('27-015');
  });

  test('exchanged with a third one later: both are followed', () => {
    const both = [
      ...exchanges,
      { one: '27-016', other: '27-017', exchanged: day('2027-06-10'), noticed: day('2027-07-20') },
    ];
    expect(queenMeant('27-017', day('2027-07-01'), both)).toBe('27-015');
    expect(queenMeant('27-016', day('2027-07-01'), both)).toBe('27-017');
    expect(queenMeant('27-015', day('2027-07-01'), both)).toBe('27-016');
  });
});

describe('usable ages', () => {
  const ages = { hard: { from: 5, to: 14 }, preferred: { from: 6, to: 12 }, source: 'common practice' };
  test('all of a batch only while the youngest is old enough and the oldest not too old', () => {
    expect(usableDays(span('2027-06-01', '2027-06-03'), ages.hard)).toEqual({
      some: days('2027-06-06', '2027-06-17'),
      all: days('2027-06-08', '2027-06-15'),
    });
    expect(usableDays(span('2027-06-01', '2027-06-20'), ages.hard).all).toBeNull();
  });
  test('one virgin by day', () => {
    const on = (date: string) => usableOn(day('2027-06-01'), day(date), ages);
    expect(['2027-06-05', '2027-06-06', '2027-06-07', '2027-06-13', '2027-06-14', '2027-06-16'].map(on)).toEqual([
      'too-young',
      'second-best',
      'best',
      'best',
      'second-best',
      'too-old',
    ]);
  });
});

describe('whose result', () => {
  const reign = (queen: string, from: string | null, to: Stay['to'], laying: string | null = null): Reign => ({
    stay: { queen, colony: 'C', cage: null, role: 'heads', from: from === null ? null : onDay(day(from)), to },
    laying: laying === null ? null : onDay(day(laying)),
  });

  test('hers wholly from 40 days after her laying began; partly from her first workers; not before', () => {
    const her = reign('Q', '2027-05-01', null, '2027-05-10');
    const on = (date: string) => whoseResult(her, [], days(date));
    expect(['2027-05-30', '2027-05-31', '2027-06-18', '2027-06-19'].map(on)).toEqual([
      'not',
      'partly',
      'partly',
      'wholly',
    ]);
    expect(whoseResult(her, [], days('2027-05-15', '2027-08-01'))).toBe('partly');
  });

  test('odd record 4: honey of 2026, disc last seen 12 August, a new queen found in April', () => {
    const disc = reign('25-020', '2025-06-20', span('2026-08-12', '2027-04-03'));
    const found: Reign = {
      stay: { ...reign('new', null, null).stay, from: span('2026-08-12', '2027-04-03') },
      laying: null,
    };
    expect(whoseResult(disc, [found], days('2026-04-20', '2026-08-01'))).toBe('wholly');
    expect(whoseResult(disc, [found], days('2026-04-20', '2026-08-31'))).toBe('partly');
    expect(whoseResult(found, [disc], days('2026-04-20', '2026-08-31'))).toBe('not');
    expect(whoseResult(disc, [found], days('2027-06-01', '2027-08-01'))).toBe('not');
    expect(whoseResult(found, [disc], days('2027-06-01', '2027-08-01'))).toBe('wholly');
    expect(queenOfReading([disc, found], days('2026-04-20', '2026-08-01'))).toBe('25-020');
    expect(queenOfReading([disc, found], days('2026-10-01', '2027-03-15'))).toBeNull();
  });

  test('odd record 19: mother and daughter laying side by side in May: nobody’s until judged', () => {
    const mother = reign('M', '2025-06-01', null);
    const daughter = reign('D', '2027-04-20', null);
    expect(whoseResult(mother, [daughter], days('2027-05-15'))).toBe('partly');
    expect(whoseResult(daughter, [mother], days('2027-05-15'))).toBe('partly');
    expect(queenOfReading([mother, daughter], days('2027-07-15'))).toBeNull();
    expect(queenOfReading([mother, daughter], days('2027-04-01'))).toBe('M');
  });

  test('her workers work on when she dies, until her successor comes', () => {
    const dead = reign('Q', '2026-06-01', onDay(day('2027-03-01')));
    expect(whoseResult(dead, [], days('2027-03-20'))).toBe('wholly');
    expect(whoseResult(dead, [], days('2027-05-01'))).toBe('not');
    expect(whoseResult(dead, [reign('S', '2027-03-10', null)], days('2027-03-20'))).toBe('partly');
  });

  test('who headed before she came is out when her own turnover is over', () => {
    const before = reign('old', '2025-06-01', onDay(day('2027-05-01')));
    const her = reign('Q', '2027-05-01', null, '2027-05-03');
    expect(whoseResult(her, [before], days('2027-06-12'))).toBe('wholly');
    expect(whoseResult(her, [before], days('2027-06-11'))).toBe('partly');
  });
});

test('spans compare end by end', () => {
  const a = span('2027-05-01', '2027-05-20');
  const b = span('2027-05-10', '2027-05-15');
  expect(laterSpan(a, b)).toEqual(span('2027-05-10', '2027-05-20'));
  expect(earlierSpan(a, b)).toEqual(span('2027-05-01', '2027-05-15'));
  expect(shifted(a, 30)).toEqual(span('2027-05-31', '2027-06-19'));
});
