import { calendarFile } from '#documents/calendar.ts';
import { eventsOf } from '#domain/rearing/calendar-event.ts';
import { countBack } from '#domain/rearing/count-back.ts';
import type { AgeWindow, BiologyProfile } from '#domain/rearing/profile.ts';
import { profileNamed, shippedProfiles } from '#domain/rearing/profiles.ts';
import { refusalsOf, type Wish } from '#domain/rearing/wish.ts';
import { warningsOf } from '#domain/rearing/wish-warnings.ts';
import { earlierOf } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';
import { sayAny, sayProblem } from '#words/say.ts';
import type { Command, Reply, World } from '../command.ts';
import type { Given } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';

const FLAG_OF: Readonly<Record<string, string>> = {
  queens: '--queens',
  queenAge: '--queen-age',
  droneAge: '--drone-age',
  doses: '--doses',
  holdDays: '--hold-days',
};

const refuseAll = (problems: readonly Problem[], given: Given): never => {
  throw new WrongInput(
    problems.map((problem) => {
      const column = FLAG_OF[problem.path] ?? problem.path;
      return { column, found: given.text(column.slice(2)), remedy: sayProblem(problem) };
    }),
  );
};

/** `14-21`, or one age alone. */
function ages(text: string): AgeWindow {
  const read = /^(\d{1,3})(?:\s*[-–]\s*(\d{1,3}))?$/.exec(text.trim());
  if (read === null)
    throw new WrongInput([
      {
        column: '--drone-age',
        found: `"${text}"`,
        expected: 'youngest and oldest, such as 14-21',
        remedy: 'give two whole numbers of days',
      },
    ]);
  return { from: Number(read[1]), to: Number(read[2] ?? read[1]) };
}

function profileOf(name: string): BiologyProfile {
  const profile = profileNamed(name);
  if (profile !== null) return profile;
  const known = shippedProfiles.map((one) => one.name).join(', ');
  throw new WrongInput([
    { column: '--profile', found: `"${name}"`, expected: `one of ${known}`, remedy: 'choose one of these' },
  ]);
}

function wishOf(given: Given): Wish {
  const wish: Wish = {
    inseminate: given.day('inseminate'),
    queens: given.number('queens'),
    queenAge: given.number('queen-age'),
    droneAge: ages(given.text('drone-age')),
    doses: given.number('doses') as 1 | 2,
    holdDays: given.number('hold-days'),
    profile: profileOf(given.text('profile')),
  };
  return given.has('first-co2') ? { ...wish, firstCo2: true } : wish;
}

/** What the uids of a file stand for: the cross where it is named, else everything asked. */
function nameOf(given: Given, wish: Wish): string {
  const { profile, ...rest } = wish;
  return given.optionalText('cross') ?? JSON.stringify({ ...rest, profile: profile.name });
}

async function writeCalendar(given: Given, wish: Wish, world: World): Promise<void> {
  const path = given.optionalText('ics');
  if (path === undefined) return;
  const tasks = countBack(wish);
  const entries = eventsOf(tasks, nameOf(given, wish)).map((event) => ({
    ...event,
    summary: sayAny(`task.${event.key}`, event.values),
  }));
  const name = given.optionalText('cross') ?? wish.inseminate;
  const stamped = tasks.map(({ day }) => day).reduce(earlierOf);
  await world.write(path, calendarFile(entries, { name, stamped }));
}

async function run(given: Given, world: World): Promise<Reply> {
  const wish = wishOf(given);
  const refused = refusalsOf(wish);
  if (refused.length > 0) refuseAll(refused, given);
  await writeCalendar(given, wish, world);
  const tasks = countBack(wish).map(({ key, day, from, to, values }) => ({
    key,
    day,
    from,
    to,
    what: sayAny(`task.${key}`, values),
  }));
  const warnings = warningsOf(wish).map(sayProblem);
  const rows = tasks.map(({ key, from, to, what }) => [from, from === to ? '' : to, key, what]);
  return {
    json: { tasks, warnings },
    tables: [{ title: `insemination on ${wish.inseminate}`, columns: ['day', 'to', 'task', 'what'], rows }],
    notes: warnings,
  };
}

/** Every task of one cross counted back from its insemination day (contracts.md, command 7). It never looks at the clock. */
export const countback: Command = {
  name: 'countback',
  summary: 'every task of a cross, counted back from its insemination day',
  positionals: [],
  flags: {
    inseminate: { takes: 'day', what: 'the insemination day', needed: true },
    queens: { takes: 'whole', what: 'queens to be inseminated', needed: true },
    'queen-age': { takes: 'whole', what: 'days after emergence on that day', initial: '8' },
    'drone-age': { takes: 'text', what: 'youngest and oldest drones on that day, in days', initial: '14-21' },
    doses: { takes: 'whole', what: '1, or 2 with the second two days later', initial: '1' },
    'hold-days': { takes: 'whole', what: 'days in the nursing cage after the last dose', initial: '2' },
    'first-co2': { takes: 'nothing', what: 'a first carbon dioxide the day before, also with two doses' },
    profile: {
      takes: 'text',
      what: `timings and usable ages: ${shippedProfiles.map((one) => one.name).join(', ')}`,
      initial: 'standard-text',
    },
    ics: { takes: 'file', what: 'also write a calendar file' },
    cross: { takes: 'text', what: 'name of the cross: a calendar then moves its entries instead of doubling them' },
  },
  run,
};
