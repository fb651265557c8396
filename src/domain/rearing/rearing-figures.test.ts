import { describe, expect, it } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { larvalAgeShift, temperatureShift, underConditions } from './conditions.ts';
import { countBack } from './count-back.ts';
import { ranged } from './figure.ts';
import { learnedShare } from './learned.ts';
import { profileNamed, shippedProfiles } from './profiles.ts';
import { standInsFor } from './stand-ins.ts';
import { standardText } from './standard-text.ts';

describe('profiles', () => {
  it('are found by name, the user’s own before the shipped', () => {
    expect(profileNamed('Standard text')?.name).toBe('standard-text');
    expect(profileNamed('nobody')).toBeNull();
    const own = { ...standardText, name: 'Standard text', usual: { ...standardText.usual, queenAge: 7 } };
    expect(profileNamed('standard-text', [own])?.usual.queenAge).toBe(7);
  });

  it('say of every figure what it rests on, and keep development the same: it is biology', () => {
    for (const { timings, survivals, yields } of shippedProfiles) {
      for (const figure of [...Object.values(timings), ...Object.values(survivals), ...Object.values(yields)]) {
        expect(figure.source.length).toBeGreaterThan(5);
        expect(figure.low <= figure.value && figure.value <= figure.high).toBe(true);
      }
      expect([timings.graftToEmergence.value, timings.droneEggToEmergence.value]).toEqual([12, 24]);
    }
  });

  it('hang the drone comb in two to seven days before the first useful egg', () => {
    expect(shippedProfiles.map(({ timings }) => timings.combLead.value)).toEqual([2, 3, 7]);
  });
});

describe('conditions', () => {
  it('move nothing when nothing is told, or at the middle of the nest', () => {
    expect(underConditions(standardText, {})).toBe(standardText);
    expect(underConditions(standardText, { temperature: 34.5, larvalAgeHours: 20 })).toBe(standardText);
  });

  /** Worker brood: about 19 days at 36-37 °C, 23-24 at 31-32 °C (from memory: Milum 1930; DeGrandi-Hoffman et al. 1993). */
  it('a cool nest takes about two days longer, a warm one about two less', () => {
    expect(21 + temperatureShift({ temperature: 36.5 })).toBeCloseTo(19.4, 1);
    expect(21 + temperatureShift({ temperature: 31.5 })).toBeCloseTo(23.4, 1);
    expect(temperatureShift({ temperature: 20 })).toBe(3);
    expect(temperatureShift({ temperature: 32, shareOfTime: 0.2 })).toBeCloseTo(0.4, 12);
  });

  /** Larvae of 48-60 h emerged up to about a day and a half early (beekeeping practice). */
  it('older larvae emerge earlier, and the cage-by day moves with them', () => {
    expect(larvalAgeShift({ larvalAgeHours: 60 })).toBeCloseTo(-1.5, 12);
    expect(larvalAgeShift({ larvalAgeHours: 12 })).toBeCloseTo(0, 12);
    const old = underConditions(standardText, { larvalAgeHours: 48 });
    expect(old.timings.graftToEmergence).toMatchObject({ value: 11, low: 10, high: 12, basis: 'from memory' });
    const wish = { inseminate: day('2027-06-12'), queens: 12, profile: old };
    const dayOf = (key: string) => countBack(wish).find((task) => task.key === key)?.day;
    expect(dayOf('graft')).toBe('2027-05-24');
    expect(dayOf('cells-out')).toBe('2027-06-02');
  });

  it('a cool nest moves drones too, with more doubt', () => {
    const cool = underConditions(standardText, { temperature: 33 });
    expect(cool.timings.droneEggToEmergence).toMatchObject({ value: 25, low: 23, high: 27 });
  });
});

describe('a share learned from one’s own records', () => {
  const published = ranged({ value: 0.8, low: 0.6, high: 0.95 }, 'published', 'a handbook');
  const batches = (n: number) => Array.from({ length: n }, () => ({ successes: 15, trials: 30 }));

  it('is the published one without records, and moves towards one’s own', () => {
    expect(learnedShare(published, [], 'none')).toBe(published);
    const one = learnedShare(published, batches(1), 'bar 1');
    const many = learnedShare(published, batches(4), 'bars 1-4');
    expect(one.value).toBeLessThan(0.8);
    expect(many.value).toBeLessThan(one.value);
    expect(many.value).toBeGreaterThan(0.5);
    expect(one).toMatchObject({ basis: 'own records', source: 'bar 1' });
  });

  it('is one’s own alone from five batches on, with what the next may bring', () => {
    const alike = learnedShare(published, batches(6), 'bars');
    expect(alike.value).toBeCloseTo(0.5, 9);
    const differing = learnedShare(
      published,
      [5, 25, 10, 20, 28, 2].map((successes) => ({ successes, trials: 30 })),
      'bars',
    );
    expect(differing.high - differing.low).toBeGreaterThan(4 * (alike.high - alike.low));
  });

  it('stays a share when all or none succeeded', () => {
    const all = learnedShare(
      published,
      Array.from({ length: 6 }, () => ({ successes: 10, trials: 10 })),
      'bars',
    );
    expect(all.value).toBeLessThan(1);
    expect(all.low).toBeGreaterThan(0.8);
  });
});

describe('stand-ins', () => {
  const queen = (name: string, more = {}) => ({
    queen: name,
    living: true,
    relatedness: 0.1,
    worth: 1,
    used: false,
    ...more,
  });

  it('are three living queens: free ones first, within the limit, the most worth, the least related', () => {
    const found = standInsFor({
      queen: 'Q',
      limit: 0.2,
      candidates: [
        queen('Q'),
        queen('dead', { living: false, worth: 9 }),
        queen('near', { relatedness: 0.3, worth: 8 }),
        queen('good', { worth: 5 }),
        queen('plain', { worth: null }),
        queen('busy', { worth: 7, used: true }),
        queen('far', { worth: 5, relatedness: 0.05 }),
      ],
    });
    expect(found.standIns.map((one) => one.queen)).toEqual(['far', 'good', 'plain']);
    expect(found.short).toBe(0);
  });

  it('say how many are lacking', () => {
    expect(standInsFor({ queen: 'Q', limit: 0.2, candidates: [queen('A')] })).toMatchObject({ short: 2 });
  });
});
