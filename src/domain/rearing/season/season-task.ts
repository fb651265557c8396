import { addDays, type Day } from '#units/calendar-day.ts';
import { countBack } from '../count-back.ts';
import type { BiologyProfile } from '../profile.ts';
import type { Task, TaskKey } from '../task.ts';
import { graftsOf } from './season-chances.ts';
import type { SeasonFrame } from './season-frame.ts';
import type { PlannedSeason } from './season-plan.ts';
import type { SeasonTaskKey } from './season-task-key.ts';

/** One task of a season: what it is about, and where. */
export type SeasonTask = {
  key: SeasonTaskKey;
  day: Day;
  from: Day;
  to: Day;
  /** What it belongs to, the same as long as the plan has it: `comb:M-07:1`, `graft:A-12:1`, `session:Cross B:1`. */
  of: string;
  /** Yard; '' is home. */
  yard: string;
  /** Names of the crosses it serves. */
  crosses: readonly string[];
  /** Queen mother or drone mother, where it is about one. */
  mother: string | null;
  values: Readonly<Record<string, number>>;
};

type About = Pick<SeasonTask, 'of' | 'yard' | 'crosses' | 'mother'> & { values: Record<string, number> };

type Span = Pick<Task, 'day' | 'from' | 'to'> & { key: SeasonTaskKey };

const withAbout = ({ key, day, from, to }: Span, about: About): SeasonTask => ({
  key,
  day,
  from,
  to,
  ...about,
});

/** Numbers things of one name in the order of their days: the first graft of a dam, her second. */
function ordinals() {
  const seen = new Map<string, number>();
  return (name: string) => {
    seen.set(name, (seen.get(name) ?? 0) + 1);
    return `${name}:${seen.get(name)}`;
  };
}

const COMB_KEYS: ReadonlySet<TaskKey> = new Set<TaskKey>([
  'drone-comb-in',
  'drone-eggs',
  'drone-egg-check',
  'drone-brood-out',
  'drones-emerge',
]);
const GRAFT_KEYS: ReadonlySet<TaskKey> = new Set<TaskKey>([
  'starter',
  'graft',
  'nucs-ready',
  'cells-out',
  'virgins-emerge',
]);

/** The tasks of one countback whose insemination day makes the wanted task fall on the wanted day. */
function tasksAround(inseminate: Day, profile: BiologyProfile, queens: number, queenAge?: number): Task[] {
  return countBack({
    inseminate,
    queens,
    profile,
    ...(queenAge === undefined ? {} : { queenAge }),
  });
}

function combTasks(plan: PlannedSeason, frame: SeasonFrame): SeasonTask[] {
  const name = ordinals();
  return [...plan.combs]
    .sort((a, b) => a.in - b.in)
    .flatMap((comb) => {
      const mother = frame.mothers[comb.mother] ?? '';
      const crosses = plan.placements
        .filter((one) => (frame.dronesOf[one.cross] ?? []).some((need) => need.mother === comb.mother))
        .filter((one) => comb.uses.some(({ day }) => day === one.day))
        .map(({ cross }) => frame.wish.crosses[cross]?.cross ?? '');
      const about: About = {
        of: name(`comb:${mother}`),
        yard: frame.yards[frame.yardOfMother[comb.mother] ?? 0] ?? '',
        crosses: [...new Set(crosses)],
        mother,
        values: { combs: comb.count },
      };
      const profile = frame.ofMother[comb.mother]?.profile ?? frame.wish.profile;
      const { timings, usual } = profile;
      const before = timings.combLead.value + timings.droneEggToEmergence.value + usual.droneAge.to;
      return tasksAround(addDays(frame.first, comb.in + before), profile, 1)
        .filter(({ key }) => COMB_KEYS.has(key))
        .map((task) => withAbout(task, about));
    });
}

/** Fetching larvae is work in the dam's yard; all else of a graft is at home. */
function graftTasks(plan: PlannedSeason, frame: SeasonFrame): SeasonTask[] {
  const name = ordinals();
  return graftsOf(plan, frame)
    .sort((a, b) => a.graft - b.graft)
    .flatMap(({ dam, graft, queens, larvae }) => {
      const placements = plan.placements.filter((one) => one.graft === graft && frame.damOf[one.cross] === dam);
      const mother = frame.dams[dam] ?? '';
      const about: About = {
        of: name(`graft:${mother}`),
        yard: '',
        crosses: [...new Set(placements.map(({ cross }) => frame.wish.crosses[cross]?.cross ?? ''))],
        mother,
        values: { queens, larvae },
      };
      const yard = frame.yards[frame.yardOfDam[dam] ?? 0] ?? '';
      const profile = frame.ofDam[dam]?.profile ?? frame.wish.profile;
      const emergence = profile.timings.graftToEmergence.value;
      return tasksAround(addDays(frame.first, graft + emergence + 8), profile, queens, 8)
        .filter(({ key }) => GRAFT_KEYS.has(key))
        .map((task) => withAbout(task, task.key === 'graft' ? { ...about, yard } : about));
    });
}

function sessionTasks(plan: PlannedSeason, frame: SeasonFrame): SeasonTask[] {
  const name = ordinals();
  const sessions = new Map<string, { cross: number; day: number; queens: number }>();
  for (const { cross, day, queens } of [...plan.placements].sort((a, b) => a.day - b.day)) {
    const known = sessions.get(`${cross}.${day}`);
    sessions.set(`${cross}.${day}`, { cross, day, queens: queens + (known?.queens ?? 0) });
  }
  return [...sessions.values()].flatMap(({ cross, day, queens }) => {
    const wish = frame.wish.crosses[cross];
    const about: About = {
      of: name(`session:${wish?.cross ?? ''}`),
      yard: '',
      crosses: [wish?.cross ?? ''],
      mother: null,
      values: { queens },
    };
    const profile = frame.ofCross[cross]?.profile ?? frame.wish.profile;
    const tasks = tasksAround(addDays(frame.first, day), profile, queens).filter(
      ({ key }) => !COMB_KEYS.has(key) && !GRAFT_KEYS.has(key),
    );
    return tasks.map((task) => withAbout(task, about));
  });
}

/**
 * Every task of a planned season, in the order of their days: shared grafts and combs once, whichever crosses they serve. The `of` of a task stays the
 * same while the plan keeps the thing, so that calendars and records can follow it.
 */
export function seasonTasks(plan: PlannedSeason, frame: SeasonFrame): SeasonTask[] {
  return [...combTasks(plan, frame), ...graftTasks(plan, frame), ...sessionTasks(plan, frame)].sort((a, b) =>
    a.day < b.day ? -1 : a.day > b.day ? 1 : 0,
  );
}
