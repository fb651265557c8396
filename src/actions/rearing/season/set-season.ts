import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { type Entry, kinds } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { action, type Written } from '../../mechanism/action.ts';
import { creating, dropping, setting } from '../../mechanism/recording.ts';

/** A season of more days is a slip of the pen. */
const LONGEST_SEASON = 300;

function spanProblems({ from_on, to_on }: { from_on?: Day; to_on?: Day }, under: string): Problem[] {
  if (from_on === undefined || to_on === undefined) return [];
  const days = daysBetween(from_on, to_on);
  if (days < 0) return [refuse(`${under}to_on`, 'season-backwards', { from: from_on, to: to_on })];
  return days > LONGEST_SEASON ? [refuse(`${under}to_on`, 'season-too-long', { days, most: LONGEST_SEASON })] : [];
}

type Limits = Partial<Entry<'season'>>;

/** Limits that leave nothing to plan with: no operator, nobody may do a queen, no cell. What trouble counts is never below nothing. */
function limitProblems(limits: Limits, under: string): Problem[] {
  const fields = ['cells', 'nucs', 'combs_per_mother', 'operators', 'queens_per_operator'] as const;
  const none: Problem[] = fields
    .filter((field) => limits[field] === 0)
    .map((field) => refuse(`${under}${field}`, 'limit-of-none'));
  const worths = [
    'visit_worth',
    'repair_graft',
    'repair_larva',
    'repair_drones',
    'repair_day',
    'repair_queen',
  ] as const;
  for (const field of worths) {
    const found = limits[field];
    if (found != null && found < 0) none.push(refuse(`${under}${field}`, 'not-zero-or-more', { found }));
  }
  const { sure } = limits;
  return sure != null && !(sure > 0 && sure < 1) ? [...none, refuse(`${under}sure`, 'not-a-share')] : none;
}

const refused = (problems: readonly Problem[]): Written<{ id: never }> => ({
  changes: [],
  result: { id: null as never },
  problems,
});

/** Begins a season: its days and what is scarce in it. */
export const beginSeason = action({
  name: 'begin-season',
  place: 'rearing',
  what: 'Begin a season: the days on which may be inseminated, and what is scarce.',
  input: kinds.season.entry,
  async run(season, { newId }): Promise<Written<{ id: ReturnType<typeof newId> }>> {
    const problems = [...spanProblems(season, ''), ...limitProblems(season, '')];
    if (problems.length > 0) return refused(problems);
    const id = newId();
    return { changes: [creating('season', id, season)], result: { id } };
  },
});

/** Changes a season: its days, its limits, how sure it is to be. */
export const changeSeason = action({
  name: 'change-season',
  place: 'rearing',
  what: 'Change a season: its days, what is scarce in it, how sure it is to be.',
  input: z.strictObject({ season: idShape, set: kinds.season.patch }),
  async run({ season: id, set }, { book }) {
    const row = await book.get('season', id);
    if (row === null) return refused([refuse('season', 'unknown-record', { kind: 'season', id })]);
    const problems = [...spanProblems({ ...row, ...set }, 'set.'), ...limitProblems(set, 'set.')];
    if (problems.length > 0) return refused(problems);
    return { changes: [setting('season', id, set)], result: { id } };
  },
});

/** Writes down days on which nobody can work. */
export const takeDaysOff = action({
  name: 'take-days-off',
  place: 'rearing',
  what: 'Write down days on which nobody can work.',
  input: z.strictObject({ from_on: dayShape, to_on: dayShape, why: z.string().trim().max(200).nullable().optional() }),
  async run(given, { newId }) {
    const { from_on: from, to_on: to } = given;
    if (to < from) return refused([refuse('to_on', 'days-off-backwards', { from, to })]);
    const id = newId();
    return { changes: [creating('day_off', id, { ...given, why: given.why || null })], result: { id } };
  },
});

/** Takes days off back: they can be worked on again. */
export const workOnDays = action({
  name: 'work-on-days',
  place: 'rearing',
  what: 'Days on which nobody could work can be worked on again.',
  input: z.strictObject({ day_off: idShape }),
  async run({ day_off: id }, { book }) {
    const row = await book.get('day_off', id);
    if (row === null) return refused([refuse('day_off', 'unknown-record', { kind: 'day_off', id })]);
    return { changes: [dropping('day_off', id)], result: { id } };
  },
});
