import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import type { Command, World } from '../command.ts';
import { readGiven } from '../given.ts';
import { oneLine, WrongInput } from '../wrong-input.ts';
import { countback } from './countback.ts';
import { dronesNeededCommand } from './drones-needed.ts';
import { lessons } from './lessons.ts';

/** A folder in memory. */
function folder(files: Record<string, string> = {}) {
  const world: World = {
    read: async (path) => new TextEncoder().encode(files[path] ?? ''),
    write: async (path, bytes) => {
      files[path] = typeof bytes === 'string' ? bytes : new TextDecoder().decode(bytes);
    },
    tell: () => undefined,
  };
  return { files, world };
}

async function run(command: Command, line: string, files: Record<string, string> = {}) {
  const { world } = folder(files);
  const words = line === '' ? [] : line.split(' ');
  return (await command.run(readGiven(command, words), world)).json as Record<string, unknown>;
}

async function linesOf(command: Command, line: string, files: Record<string, string> = {}) {
  try {
    await run(command, line, files);
  } catch (error) {
    if (error instanceof WrongInput) return error.problems.map(oneLine);
    throw error;
  }
  return [];
}

type Task = { key: string; day: string; from: string; to: string; what: string };

describe('countback', () => {
  it('answers tasks and warnings, each task with key, days and words', async () => {
    const { tasks, warnings } = await run(countback, '--inseminate 2027-06-12 --queens 12');
    const list = tasks as Task[];
    expect(list.map(({ key }) => key)).toContain('own-workers');
    expect(list.find(({ key }) => key === 'graft')).toEqual({
      key: 'graft',
      day: '2027-05-23',
      from: '2027-05-23',
      to: '2027-05-23',
      what: 'Graft.',
    });
    for (const task of list) expect(task.what, task.key).toMatch(/^[A-Z][^[\]{}]+\.$/);
    expect(warnings).toEqual([]);
  });

  it('never looks at the clock: a day long past is counted back like any other', async () => {
    const past = await run(countback, '--inseminate 1999-06-12 --queens 1');
    expect(past.warnings).toEqual([]);
  });

  it('takes every flag of the contract and says what is outside the usual', async () => {
    const line = '--inseminate 2027-06-12 --queens 3 --queen-age 12 --drone-age 10-30 --doses 2 --hold-days 3';
    const { tasks, warnings } = await run(countback, `${line} --profile common-practice`);
    expect((tasks as Task[]).find(({ key }) => key === 'second-dose')?.what).toBe('Second dose for 3 queens.');
    expect((tasks as Task[]).find(({ key }) => key === 'release')?.day).toBe('2027-06-17');
    expect(warnings).toHaveLength(2);
    for (const said of warnings as string[]) expect(said).toMatch(/^Drones of \d+ days: /);
  });

  it("keeps the contract's default ages under every profile, given with blanks and capitals or not", async () => {
    for (const profile of ['standard-text', 'common-practice', 'early-spring']) {
      const { tasks } = await run(countback, `--inseminate 2027-06-12 --queens 12 --profile ${profile}`);
      const eggs = (tasks as Task[]).find(({ key }) => key === 'drone-eggs');
      expect([eggs?.from, eggs?.to]).toEqual(['2027-04-28', '2027-05-05']);
    }
    const { world } = folder();
    const given = readGiven(countback, ['--inseminate', '2027-06-12', '--queens', '1', '--profile', 'Standard text']);
    await expect(countback.run(given, world)).resolves.toBeDefined();
  });

  it('writes the same calendar on every run, one event a task, read by an independent parser', async () => {
    const files: Record<string, string> = {};
    const line = '--inseminate 2027-06-12 --queens 12 --ics cross.ics';
    const { tasks } = await run(countback, line, files);
    const first = files['cross.ics'] ?? '';
    await run(countback, line, files);
    expect(files['cross.ics']).toBe(first);
    const events = new ICAL.Component(ICAL.parse(first)).getAllSubcomponents('vevent');
    expect(events.map((event) => String(event.getFirstPropertyValue('dtstart')))).toEqual(
      (tasks as Task[]).map(({ from }) => from),
    );
  });

  it('keeps the uids of a named cross when its day moves', async () => {
    const uids = async (day: string) => {
      const files: Record<string, string> = {};
      await run(countback, `--inseminate ${day} --queens 12 --cross B --ics x.ics`, files);
      return files['x.ics']?.match(/^UID:.*$/gm);
    };
    expect(await uids('2027-06-12')).toEqual(await uids('2027-06-13'));
  });

  it.each([
    ['--inseminate 2027-06-12 --queens 0', /--queens: found 0; At least one queen/],
    ['--inseminate 2027-06-12 --queens 12 --drone-age 21-14', /--drone-age: found 21-14; Write the younger age first/],
    ['--inseminate 2027-06-12 --queens 12 --drone-age old', /--drone-age: found "old"/],
    ['--inseminate 2027-06-12 --queens 12 --doses 3', /--doses: found 3; One dose or two/],
    ['--inseminate 2027-06-12 --queens 12 --queen-age 0', /--queen-age: found 0; /],
    ['--inseminate 2027-06-12 --queens 12 --profile mine', /--profile: found "mine"; expected one of standard-text/],
    ['--inseminate 2027-06-31 --queens 12', /--inseminate: found "2027-06-31"/],
  ])('%s is wrong input', async (line, said) => {
    const lines = await linesOf(countback, line);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(said);
  });

  it('writes no calendar when the input is wrong', async () => {
    const files: Record<string, string> = {};
    await linesOf(countback, '--inseminate 2027-06-12 --queens 0 --ics x.ics', files);
    expect(files).toEqual({});
  });
});

describe('drones-needed', () => {
  it('answers exactly the keys of the contract', async () => {
    const line = '--queens 12 --dose 8 --reserve 10% --per-drone 1 --yielding 50% --sure 90%';
    expect(await run(dronesNeededCommand, line)).toEqual({
      semenMicrolitres: 12 * 8 * (1 + 0.1),
      donors: 106,
      matureDrones: 231,
      probability: expect.closeTo(0.9025, 2),
    });
    expect(await run(dronesNeededCommand, line.replaceAll('%', ''))).toMatchObject({ matureDrones: 231 });
  });

  it.each([
    ['--queens 0', /--queens: found 0; Give a number above 0/],
    ['--queens 12 --dose=-8', /--dose: found -8/],
    ['--queens 12 --yielding 0%', /--yielding: found 0; Give a share/],
    ['--queens 12 --sure 100%', /--sure: found 1; No number of drones/],
    ['--queens 12 --sure 120%', /--sure: found 1.2/],
  ])('%s is wrong input', async (line, said) => {
    expect((await linesOf(dronesNeededCommand, line))[0]).toMatch(said);
  });
});

describe('lessons', () => {
  const head = 'queen,inseminated,operator,tip,laying,laying_on,checked_on,lost_on,fate';
  const rows = [
    'A,2027-06-12,Ada,3,yes,2027-06-20,2027-06-26,,',
    'B,2027-06-12,Ada,3,no,,2027-06-26,2027-07-01,lost',
    'C,2027-06-12,Ben,3,yes,2027-06-22,2027-06-26,2027-06-30,sold',
    'D,2027-06-12,Ben,2,,,,,',
  ];
  const files = { 'o.csv': [head, ...rows, ''].join('\r\n') };

  it('answers every key of the contract, by operator when nothing is asked', async () => {
    const answer = await run(lessons, 'o.csv', files);
    expect(Object.keys(answer)).toEqual(expect.arrayContaining(['overall', 'groups', 'onset', 'survival', 'runs']));
    expect(answer.overall).toMatchObject({ laying: 2, known: 3, rate: 2 / 3 });
    expect(answer.groups).toMatchObject([
      { group: 'Ada', laying: 1, known: 2, shrunken: expect.any(Number) },
      { group: 'Ben', laying: 1, known: 1 },
    ]);
    expect(answer.survival).toMatchObject([{ day: 19, alive: 0.0, atRisk: 1 }]);
    expect(answer.runs).toMatchObject([{ group: 'Ada', signalAt: null }, { group: 'Ben' }]);
  });

  it('parts by any column, and reads semicolons', async () => {
    const semicolons = { 'o.csv': files['o.csv'].replaceAll(',', ';') };
    const answer = await run(lessons, 'o.csv --by tip', semicolons);
    expect(answer.groups).toMatchObject([
      { group: '2', laying: 0, known: 0, rate: null, low: null, high: null },
      { group: '3', laying: 2, known: 3 },
    ]);
  });

  it('answers about queens alone when no operator was written down', async () => {
    const answer = await run(lessons, 'o.csv', { 'o.csv': 'queen,laying\nA,yes\n' });
    expect(answer.groups).toMatchObject([{ group: null, laying: 1, known: 1 }]);
  });

  it.each([
    ['o.csv', 'queen,laying\nA,perhaps\n', /o\.csv, row 2, column laying: found "perhaps"; Write yes, no/],
    ['o.csv', 'queen,laying\nA\n', /o\.csv, row 2: found 1 fields/],
    ['o.csv', 'name,laying\nA,yes\n', /o\.csv, row 1, column queen/],
    ['o.csv', '', /o\.csv, row 1/],
    ['o.csv --by moon', 'queen,laying\nA,yes\n', /--by: found "moon"/],
    ['o.csv --bad 5%', 'queen,laying\nA,yes\n', /--bad: found 5%/],
  ])('%s of %j is wrong input, named by file, row and column', async (line, text, said) => {
    expect((await linesOf(lessons, line, { 'o.csv': text }))[0]).toMatch(said);
  });
});
