import type { Day } from '#units/calendar-day.ts';
import { daysBetween } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { BiologyProfile } from '../profile.ts';
import type { Standing } from './standing.ts';

/** A cross to be fitted into the season. */
export type CrossWish = {
  /** The breeder's name for it. */
  cross: string;
  /** Queen mother whose larvae are grafted. */
  dam: string;
  /** Drone mothers and their shares of the semen, adding up to 1. */
  drones: readonly { mother: string; share: number }[];
  queens: number;
  /** µl of semen a queen. */
  dose: number;
  /** First and last insemination day wished; open ends reach to the ends of the season. */
  earliest?: Day;
  latest?: Day;
  /** Worth of one of its queens beside those of other crosses, 1 unless told. */
  worth?: number;
  /** Its own times and losses (with its larval age and warmth), where they are not those of the season. */
  profile?: BiologyProfile;
};

/** What is scarce; `null` is not limited. */
export type SeasonLimits = {
  /** Cells that can stand in all starters and finishers together, and for how many days from the graft. */
  cells: number | null;
  cellDays: number;
  /** Ripe cells in the incubator, until they have emerged. */
  incubatorPlaces: number | null;
  /** Nucs, held from emergence until so many days after insemination. */
  nucs: number | null;
  nucDays: number;
  /** Drone combs in the nest of one mother at one time. */
  combsPerMother: number | null;
  /** Queens all operators together can inseminate on one day. */
  queensPerDay: number | null;
  /** Days nobody can work. */
  blockedDays: readonly Day[];
  /** At most one yard away from home is visited on one day. */
  oneYardADay: boolean;
};

/** Everything the planner is told. Yards are named by mother; a mother without one stands at home. */
export type SeasonWish = {
  crosses: readonly CrossWish[];
  limits: SeasonLimits;
  /** Times and losses of every cross that has none of its own. */
  profile: BiologyProfile;
  /** First and last day on which may be inseminated. */
  from: Day;
  to: Day;
  /** Nothing can begin before today; left out, nothing is too near. */
  today?: Day;
  yards?: Readonly<Record<string, string>>;
  /** The queen in whose nest combs of a line or sister group must hang: only of one that has a single living queen. */
  nestOf?: Readonly<Record<string, string>>;
  /** Chance with which each graft and each comb is to suffice, 0.9 unless told. */
  sure?: number;
  /** Queens one visit saved is worth, 0.02 unless told: so queens come first, and visits decide between equals. */
  visitWorth?: number;
  /** What stands already for crosses that are not among these: it is taken off what is scarce. */
  standing?: Standing;
};

/** What a season is reckoned with where its breeder sets nothing: days a graft fills the starters, days a nuc is held, queens a visit saved is worth. */
export const usualReckoning = { cellDays: 5, nucDays: 21, visitWorth: 0.02 };

/** No limits: every figure open. */
export const unlimited: SeasonLimits = {
  cells: null,
  cellDays: usualReckoning.cellDays,
  incubatorPlaces: null,
  nucs: null,
  nucDays: usualReckoning.nucDays,
  combsPerMother: null,
  queensPerDay: null,
  blockedDays: [],
  oneYardADay: false,
};

export type SeasonRefusal =
  | 'no-crosses'
  | 'season-backwards'
  | 'season-too-long'
  | 'cross-twice'
  | 'not-whole-queens'
  | 'no-queens'
  | 'not-above-zero'
  | 'no-drone-mother'
  | 'shares-not-one'
  | 'wishes-contradict'
  | 'not-zero-or-more'
  | 'not-a-share';

/** A season of more days is a slip of the pen. */
const LONGEST_SEASON = 300;

function crossRefusals(wish: CrossWish, i: number): Problem<SeasonRefusal>[] {
  const found: Problem<SeasonRefusal>[] = [];
  const say = (field: string, code: SeasonRefusal, value: string | number) =>
    found.push(refuse(`crosses.${i}.${field}`, code, { cross: wish.cross, found: value }));
  if (!Number.isInteger(wish.queens)) say('queens', 'not-whole-queens', wish.queens);
  else if (wish.queens < 1) say('queens', 'no-queens', wish.queens);
  if (!(wish.dose > 0)) say('dose', 'not-above-zero', wish.dose);
  if (wish.drones.length === 0) say('drones', 'no-drone-mother', 0);
  const total = wish.drones.reduce((sum, { share }) => sum + share, 0);
  if (wish.drones.length > 0 && !(Math.abs(total - 1) <= 0.01 && wish.drones.every(({ share }) => share > 0)))
    say('drones', 'shares-not-one', total);
  if (wish.earliest !== undefined && wish.latest !== undefined && wish.latest < wish.earliest)
    say('latest', 'wishes-contradict', wish.latest);
  return found;
}

function limitRefusals({ limits, sure }: SeasonWish): Problem<SeasonRefusal>[] {
  const numbers = [
    'cells',
    'cellDays',
    'incubatorPlaces',
    'nucs',
    'nucDays',
    'combsPerMother',
    'queensPerDay',
  ] as const;
  const found = numbers.flatMap((name) => {
    const value = limits[name];
    return value === null || value >= 0
      ? []
      : [refuse<SeasonRefusal>(`limits.${name}`, 'not-zero-or-more', { found: value })];
  });
  if (sure !== undefined && !(sure > 0 && sure < 1)) found.push(refuse('sure', 'not-a-share', { found: sure }));
  return found;
}

/** Everything that makes a season impossible as a wish, before any planning. */
export function seasonRefusals(wish: SeasonWish): Problem<SeasonRefusal>[] {
  const found = [...wish.crosses.flatMap(crossRefusals), ...limitRefusals(wish)];
  if (wish.crosses.length === 0) found.push(refuse('crosses', 'no-crosses'));
  const names = wish.crosses.map(({ cross }) => cross);
  names.forEach((name, i) => {
    if (names.indexOf(name) !== i) found.push(refuse(`crosses.${i}.cross`, 'cross-twice', { cross: name }));
  });
  const length = daysBetween(wish.from, wish.to);
  if (length < 0) found.push(refuse('to', 'season-backwards', { from: wish.from, to: wish.to }));
  else if (length > LONGEST_SEASON) found.push(refuse('to', 'season-too-long', { days: length, most: LONGEST_SEASON }));
  return found;
}
