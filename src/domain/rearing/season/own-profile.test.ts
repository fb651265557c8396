import { describe, expect, it } from 'vitest';
import { addDays, day, daysBetween } from '#units/calendar-day.ts';
import { underConditions } from '../conditions.ts';
import { countBack } from '../count-back.ts';
import type { BiologyProfile } from '../profile.ts';
import { shippedProfiles } from '../profiles.ts';
import { searchSeason } from './plan-search.ts';
import { planToTake } from './plan-to-take.ts';
import { season } from './season.fixture.ts';
import { answerOf, plainBound } from './season-answer.ts';
import { seasonFrame } from './season-frame.ts';
import { proposalOf } from './season-proposal.ts';
import { seasonTasks } from './season-task.ts';
import type { CrossWish } from './season-wish.ts';

const from = day('2027-06-10');
const cross = (name: string, more: Partial<CrossWish> = {}): CrossWish => ({
  cross: name,
  dam: 'A',
  drones: [{ mother: 'M', share: 1 }],
  queens: 6,
  dose: 8,
  ...more,
});

function planned(crosses: CrossWish[], more: object = {}) {
  const wish = season({ crosses, from, to: addDays(from, 12), ...more });
  const frame = seasonFrame(wish);
  const plan = searchSeason(frame, 1, (attempts) => attempts < 60);
  return { wish, frame, plan, proposal: proposalOf(answerOf(plan, frame, plainBound(frame)), frame) };
}

const conditions = [
  {},
  { larvalAgeHours: 36 },
  { larvalAgeHours: 60 },
  { temperature: 33 },
  { temperature: 36, larvalAgeHours: 48 },
];
const profiles: [string, BiologyProfile][] = shippedProfiles.flatMap((profile) =>
  conditions.map((one): [string, BiologyProfile] => [
    `${profile.name} ${JSON.stringify(one)}`,
    underConditions(profile, one),
  ]),
);

describe('a season of one cross', () => {
  it.each(profiles)('is the countback of that cross, by %s', (_, profile) => {
    const { wish, frame, plan, proposal } = planned([cross('B', { profile })]);
    const [taken] = planToTake(proposal, wish).days;
    if (taken === undefined) throw new Error('nothing planned');
    const counted = countBack({
      inseminate: taken.on,
      queens: 6,
      profile,
      queenAge: taken.queen_age,
      droneAge: { from: taken.drone_age_from, to: taken.drone_age_to },
    });
    const spans = new Map(counted.map((task) => [task.key as string, { from: task.from, to: task.to }]));
    const tasks = seasonTasks(plan, frame);
    // A comb hung in before its drones are of the oldest usual age gives older ones too; its days are its own.
    const isExact = daysBetween(proposal.combs[0]?.day ?? taken.on, spans.get('drone-comb-in')?.from ?? taken.on) === 0;
    const combKeys = ['drone-comb-in', 'drone-eggs', 'drone-egg-check', 'drone-brood-out', 'drones-emerge'];
    const told = tasks.filter(({ key }) => spans.has(key) && (isExact || !combKeys.includes(key)));
    expect(told.length).toBeGreaterThan(10);
    for (const { key, from: begins, to } of told) expect({ key, from: begins, to }).toEqual({ key, ...spans.get(key) });
    const out = addDays(proposal.bars[0]?.day ?? taken.on, profile.timings.graftToEmergence.value);
    expect(daysBetween(out, taken.on)).toBe(taken.queen_age);
    expect(taken.queen_age).toBeGreaterThanOrEqual(profile.queens.preferred.from);
    expect(taken.queen_age).toBeLessThanOrEqual(profile.queens.preferred.to);
  });

  it('is the same whether the profile is its own or the one of the season', () => {
    for (const [, profile] of profiles.slice(0, 5)) {
      const own = planned([cross('B', { profile })]);
      const usual = planned([cross('B')], { profile });
      expect(own.proposal).toEqual(usual.proposal);
    }
  });
});

describe('crosses with times of their own beside others', () => {
  const [, older] = profiles[2] ?? [];
  const one = { earliest: addDays(from, 4), latest: addDays(from, 4) };

  it('share no bar and no comb with those raised otherwise, but the nest', () => {
    const { plan, frame } = planned([cross('B', one), cross('C', { ...one, profile: older as BiologyProfile })], {
      limits: { combsPerMother: 1 },
    });
    expect(frame.dams).toEqual(['A', 'A']);
    expect(frame.nests).toEqual(['M']);
    const combs = plan.combs.map((comb) => comb.in).sort((a, b) => a - b);
    for (const [i, hung] of combs.entries())
      if (i > 0) expect(hung - (combs[i - 1] ?? 0)).toBeGreaterThanOrEqual(frame.ofMother[0]?.combStay ?? 0);
  });

  it('graft older larvae a day later, and take the chances of their own losses', () => {
    const { proposal } = planned([cross('B', one), cross('C', { ...one, dam: 'Z', profile: older as BiologyProfile })]);
    const barOf = (dam: string) => proposal.bars.find((bar) => bar.dam === dam)?.day ?? from;
    const ageOf = (dam: string, emergence: number) => daysBetween(barOf(dam), one.latest) - emergence;
    // 60 hours: a day and a half older than 24, so ten or eleven days instead of twelve to emergence.
    expect((older as BiologyProfile).timings.graftToEmergence.value).toBeLessThan(12);
    expect(ageOf('A', 12)).toBeGreaterThanOrEqual(6);
    expect(ageOf('Z', (older as BiologyProfile).timings.graftToEmergence.value)).toBeGreaterThanOrEqual(6);
    for (const { readiness } of proposal.days)
      for (const { chance } of readiness.links) expect(chance).toBeGreaterThan(0.89);
  });
});

describe('combs of a line', () => {
  const one = { earliest: addDays(from, 4), latest: addDays(from, 4) };
  const ofLine = cross('C', { ...one, dam: 'Z', drones: [{ mother: 'line', share: 1 }] });
  const limits = { combsPerMother: 1 };

  it('hang in the nest of its only queen, beside her own; else in a nest nobody knows yet', () => {
    const { frame } = planned([cross('B', one), ofLine], { limits, nestOf: { line: 'M' } });
    expect(frame.nests).toEqual(['M']);
    expect(frame.nestOf).toEqual([0, 0]);
    expect(planned([cross('B', one), ofLine], { limits }).frame.nests).toEqual(['M', 'line']);
  });

  it('that stand already take the room of her nest', () => {
    const hung = addDays(from, -40);
    const standing = { bars: [], queens: [], combs: [{ mothers: ['line'], day: hung, combs: 1 }] };
    const roomOn = (nestOf: object) => {
      const { frame } = planned([cross('B', one)], { limits, standing, ...nestOf });
      return frame.room.nests[0]?.[daysBetween(frame.first, hung)];
    };
    expect(roomOn({ nestOf: { line: 'M' } })).toBe(0);
    expect(roomOn({})).toBe(1);
  });
});
