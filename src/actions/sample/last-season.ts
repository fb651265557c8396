import { yearMark } from '#domain/marking/year-colour.ts';
import { addDays, type Day, yearOf } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { closeBenchDay } from '../bench/close-bench-day.ts';
import { giveCo2 } from '../bench/give-co2.ts';
import { giveDose } from '../bench/give-dose.ts';
import { home } from '../bench/home.ts';
import { notDone } from '../bench/not-done.ts';
import { openBenchDay } from '../bench/open-bench-day.ts';
import { queueQueens } from '../bench/queue-queens.ts';
import { planCross } from '../crosses/plan-cross.ts';
import { correct } from '../history/correct.ts';
import { emergeVirgins } from '../rearing/emerge-virgins.ts';
import { recordCells } from '../rearing/record-cells.ts';
import { recordDroneComb } from '../rearing/record-drone-comb.ts';
import { recordGraft } from '../rearing/record-graft.ts';
import { tallyDrones } from '../semen/tally-drones.ts';
import { markQueen } from '../stock/mark-queen.ts';
import { moveQueen } from '../stock/move-queen.ts';
import { recodeQueen } from '../stock/recode-queen.ts';
import { recordFate } from '../stock/record-fate.ts';
import { recordSalineBatch } from '../stock/record-plain.ts';
import { checkLaying } from '../yard/check-laying.ts';
import { scoreColony } from '../yard/score-colony.ts';
import type { Doing } from './doing.ts';
import type { OlderQueens } from './older-queens.ts';
import type { Station } from './station.ts';

type Virgin = { queen: RecordId; nuc: RecordId };
export type Bar = { graft: RecordId; virgins: Virgin[] };

/** One bar of one dam's larvae: grafted, accepted, caged, emerged, each virgin coded, marked and put into her nuc. */
export async function raiseBar(
  doing: Doing,
  station: Station,
  wish: {
    code: string;
    dam: RecordId;
    line: RecordId;
    cross: RecordId;
    emerged: Day;
    virgins: number;
    firstDisc: number;
  },
): Promise<Bar> {
  const grafted = addDays(wish.emerged, -12);
  const larvae = wish.virgins + 5;
  const graft = await doing.make(
    recordGraft,
    {
      graft: { code: wish.code, day: grafted, larva_age_hours: 18, cross: wish.cross },
      ranges: [{ position_from: 1, position_to: larvae, dam: wish.dam }],
    },
    grafted,
  );
  const accepted = Array.from({ length: wish.virgins + 2 }, (_, i) => i + 1);
  await doing.do(recordCells, { graft, what: 'accepted', positions: accepted }, addDays(grafted, 1));
  await doing.do(recordCells, { graft, what: 'out', positions: accepted }, addDays(grafted, 10));
  const positions = accepted.slice(0, wish.virgins);
  await doing.do(emergeVirgins, { graft, virgins: positions.map((position) => ({ position })) }, wish.emerged);
  const cells = new Map((await doing.book.find('graft_cell', { graft })).map(({ id, position }) => [position, id]));
  const virgins: Virgin[] = [];
  for (const [i, position] of positions.entries()) {
    const [row] = await doing.book.find('queen', { cell: cells.get(position) ?? null });
    if (row === undefined) throw new Error('the sample does not fit: a virgin without her cell');
    const disc = wish.firstDisc + i;
    const year = yearOf(wish.emerged);
    const code = `${String(year).slice(2)}-${String(disc).padStart(3, '0')}`;
    await doing.do(recodeQueen, { queen: row.id, code }, wish.emerged, '11:00');
    await doing.do(markQueen, { queen: row.id, colour: yearMark(year).colour, disc }, wish.emerged, '11:05');
    const nuc = await station.nuc(wish.emerged);
    await doing.do(correct, { kind: 'queen', id: row.id, set: { line: wish.line } }, wish.emerged, '11:10');
    await doing.do(moveQueen, { queen: row.id, colony: nuc, on: wish.emerged }, wish.emerged, '12:00');
    virgins.push({ queen: row.id, nuc });
  }
  return { graft, virgins };
}

/** A drone comb of one mother for an insemination day, hung in and laid as the countback says. */
export async function raiseDrones(
  doing: Doing,
  mother: RecordId,
  { code, on }: { code: string; on: Day },
): Promise<RecordId> {
  return doing.make(
    recordDroneComb,
    {
      code,
      mother,
      mother_sure: 'known',
      in_on: addDays(on, -47),
      laid_from: addDays(on, -44),
      laid_to: addDays(on, -40),
      emerged_from: addDays(on, -20),
      emerged_to: addDays(on, -16),
      marked_how: 'a dot of paint, one colour a week',
    },
    addDays(on, -16),
  );
}

/** A tube with what is left in it, µl. */
type Filled = { id: RecordId; left: number };

/** Drones of one mother tallied into two capillaries of 30-odd microlitres. */
export async function fillTubes(
  doing: Doing,
  bench_day: RecordId | undefined,
  on: Day,
  from: { mother: RecordId; comb: RecordId; codes: string[] },
): Promise<Filled[]> {
  const gave = 60 + Math.floor(doing.share() * 8);
  // About 1.05 µl a drone that gave (Rhodes et al. 2011, Apidologie 42:29: 1.09 µl).
  const each = Math.round((gave * 10.5) / from.codes.length) / 10;
  const result = (await doing.do(
    tallyDrones,
    {
      ...(bench_day === undefined ? {} : { bench_day }),
      taken: 130,
      left_over: 12,
      gave,
      age_from: 16,
      age_to: 20,
      sources: [{ mother: from.mother, comb: from.comb }],
      reasons: [
        { reason: 'mucus', count: 3 },
        { reason: 'immature', count: 5 },
      ],
      into: from.codes.map((code) => ({
        new: { code, bore_mm: 1.1284, temperature_c: 18 },
        start: 0,
        end: each,
        drones: gave / from.codes.length,
      })),
    },
    on,
    '08:00',
  )) as { tubes?: RecordId[] };
  const ids = result.tubes ?? (await doing.book.find('tube', { code: from.codes })).map(({ id }) => id);
  return ids.map((id) => ({ id, left: each }));
}

/** What the looks after an insemination showed, drawn for each queen with the usual chances of practice. */
type Course = 'laying' | 'late' | 'drone-layer' | 'none' | 'gone';
function course(chance: number): Course {
  if (chance < 0.62) return 'laying';
  if (chance < 0.78) return 'late';
  if (chance < 0.84) return 'drone-layer';
  return chance < 0.92 ? 'none' : 'gone';
}

async function looks(doing: Doing, { queen, nuc }: Virgin, on: Day, went: Course): Promise<void> {
  const look = (after: number, sights: string[], queen_seen = 'seen') =>
    doing.do(checkLaying, { queen, colony: nuc, sights, queen_seen } as never, addDays(on, after), '15:00');
  if (went === 'gone') return void (await look(7, ['queen-gone'], 'not-seen'));
  await look(7, went === 'laying' ? ['eggs'] : ['no-eggs']);
  if (went === 'late') await look(14, ['eggs']);
  if (went === 'drone-layer') await look(14, ['eggs', 'several-in-a-cell']);
  if (went === 'none') await look(14, ['no-eggs']);
  const caps = { laying: ['worker-caps'], late: ['worker-caps'], 'drone-layer': ['drone-caps'], none: ['no-eggs'] }[
    went
  ];
  await look(went === 'late' ? 24 : 21, caps);
  if (went === 'laying' || went === 'late') await look(33, ['own-workers', 'worker-caps']);
  if (went === 'none') await doing.do(recordFate, { queen, kind: 'culled' }, addDays(on, 22));
  if (went === 'drone-layer') await doing.do(recordFate, { queen, kind: 'drone-layer' }, addDays(on, 22));
}

export type LastSeason = { laying: readonly Virgin[] };

/** The season of a year ago, told in full: two crosses, thirty virgins, a bench day, the looks, the winter. */
export async function plantLastSeason(doing: Doing, station: Station, older: OlderQueens): Promise<LastSeason> {
  const on = doing.day(-363);
  const [alderDam, , alderDrones] = older.alder;
  const [sallowDam, sallowDrones, sallowDrones2] = older.sallow;
  if (!alderDam || !alderDrones || !sallowDam || !sallowDrones || !sallowDrones2)
    throw new Error('the sample does not fit');
  const planned = addDays(on, -70);
  const year = String(yearOf(on)).slice(2);
  const crossOf = (code: string, dam: RecordId, mothers: RecordId[], purpose: string) =>
    doing.make(
      planCross,
      {
        cross: { code, purpose, queens_wanted: 12, dose_ul: 8, drones: 10, inseminate_on: on },
        dams: [dam],
        drone_sources: mothers.map((queen) => ({ queen, share: 1 / mothers.length })),
      },
      planned,
    );
  const first = await crossOf(`A${year}`, alderDam, [sallowDrones, sallowDrones2], 'Gentle Alder with early drones');
  const second = await crossOf(`B${year}`, sallowDam, [alderDrones], 'Sallow with Alder drones, for breadth');
  const combs = [];
  for (const [i, mother] of [sallowDrones, sallowDrones2, alderDrones].entries())
    combs.push(await raiseDrones(doing, mother, { code: `D${year}-${i + 1}`, on }));
  const emerged = addDays(on, -8);
  const barA = await raiseBar(doing, station, {
    code: `bar ${year}-1`,
    dam: alderDam,
    line: station.lines.alder,
    cross: first,
    emerged,
    virgins: 15,
    firstDisc: 1,
  });
  const barB = await raiseBar(doing, station, {
    code: `bar ${year}-2`,
    dam: sallowDam,
    line: station.lines.sallow,
    cross: second,
    emerged,
    virgins: 15,
    firstDisc: 31,
  });
  const virgins = [...barA.virgins, ...barB.virgins];
  const lostEarly = [virgins[3], virgins[22]];
  for (const virgin of lostEarly)
    if (virgin) await doing.do(recordFate, { queen: virgin.queen, kind: 'lost' }, addDays(on, -3));
  const ready = (bar: Bar) => bar.virgins.filter((virgin) => !lostEarly.includes(virgin));
  const all = [...ready(barA), ...ready(barB)];
  await doing.do(
    giveCo2,
    { queens: all.map(({ queen }) => queen), minutes: 3, relation: 'before' },
    addDays(on, -1),
    '17:00',
  );
  const saline = await doing.make(
    recordSalineBatch,
    {
      code: `saline ${year}-1`,
      recipe: 'buffered',
      made_on: addDays(on, -3),
      made_by: station.people.tomas,
      antibiotic: 'none',
    },
    addDays(on, -3),
  );
  const bench = await doing.make(
    openBenchDay,
    { place: 'bee laboratory', saline, gas_bottle: 'bottle 2', operator: station.people.orla, first_tip: 1 },
    on,
    '07:30',
  );
  const tubes = [
    await fillTubes(doing, bench, on, { mother: sallowDrones, comb: combs[0] as RecordId, codes: ['C-01', 'C-02'] }),
    await fillTubes(doing, bench, on, { mother: sallowDrones2, comb: combs[1] as RecordId, codes: ['C-03', 'C-04'] }),
    await fillTubes(doing, bench, on, { mother: alderDrones, comb: combs[2] as RecordId, codes: ['C-05', 'C-06'] }),
    await fillTubes(doing, bench, on, {
      mother: alderDrones,
      comb: combs[2] as RecordId,
      codes: ['C-07', 'C-08'],
    }),
  ];
  const done: Virgin[] = [];
  let minute = 9 * 60;
  const inseminate = async (cross: RecordId, bar: Bar, order: readonly Filled[], operator: RecordId) => {
    const queue = ready(bar);
    await doing.do(
      queueQueens,
      { bench_day: bench, cross, queens: queue.map(({ queen }) => ({ queen })) },
      on,
      '08:50',
    );
    for (const [i, virgin] of queue.entries()) {
      minute += 6;
      const time = `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
      const { queen } = virgin;
      if (i === 5) {
        await doing.do(
          notDone,
          { bench_day: bench, cross, queen, reason: bar === barA ? 'crippled' : 'too-small' },
          on,
          time,
        );
        continue;
      }
      const tube = order.find(({ left }) => left >= 8);
      if (tube === undefined) throw new Error('the sample does not fit: no tube');
      tube.left -= 8;
      const insemination = await doing.make(
        giveDose,
        {
          bench_day: bench,
          cross,
          queen,
          draws: [{ tube: tube.id, microlitres: 8 }],
          tip: i < 7 ? 1 : 2,
          operator,
          ...(i === 2 ? { exceptions: ['leak'] } : {}),
        } as never,
        on,
        time,
      );
      await doing.do(home, { insemination, colony: virgin.nuc, excluder: true }, on, time);
      done.push(virgin);
    }
  };
  await inseminate(first, barA, [...(tubes[0] ?? []), ...(tubes[1] ?? [])], station.people.orla);
  await inseminate(second, barB, [...(tubes[2] ?? []), ...(tubes[3] ?? [])], station.people.tomas);
  await doing.do(
    giveCo2,
    { bench_day: bench, queens: done.map(({ queen }) => queen), minutes: 2, relation: 'with' },
    on,
    '13:00',
  );
  const emptied = tubes.flat().map(({ id }) => ({ tube: id, microlitres: 0 }));
  await doing.do(closeBenchDay, { bench_day: bench, remeasured: emptied }, on, '16:00');
  const laying: Virgin[] = [];
  for (const virgin of done) {
    const went = course(doing.share());
    await looks(doing, virgin, on, went);
    if (went === 'laying' || went === 'late') laying.push(virgin);
  }
  await winter(doing, station, on, laying);
  return { laying: laying.slice(0, -4) };
}

/** A summer's scores and a winter's losses of the queens that laid. */
async function winter(doing: Doing, station: Station, on: Day, laying: readonly Virgin[]): Promise<void> {
  for (const [i, virgin] of laying.slice(0, 12).entries()) {
    const honey = Math.round((22 + 14 * doing.share()) * 10) / 10;
    await doing.do(
      scoreColony,
      {
        colony: virgin.nuc,
        person: i % 2 === 0 ? station.people.orla : station.people.tomas,
        readings: [
          { trait: 'honey', value: honey, unit: 'kg', span_from: addDays(on, 40) },
          { trait: 'gentleness', value: 2 + Math.round(4 * doing.share()) / 2 },
          { trait: 'calmness', value: 2 + Math.round(4 * doing.share()) / 2 },
        ],
        queen_seen: 'seen',
      },
      addDays(on, 75),
    );
  }
  const [sold, given, lost, superseded] = laying.slice(-4);
  const ends = [
    [sold, 'sold', 60],
    [given, 'given', 64],
    [lost, 'lost', 250],
    [superseded, 'superseded', 300],
  ] as const;
  for (const [virgin, kind, after] of ends)
    if (virgin) await doing.do(recordFate, { queen: virgin.queen, kind }, addDays(on, after));
  for (const { queen, nuc } of laying.slice(0, -4))
    await doing.do(
      checkLaying,
      { queen, colony: nuc, sights: ['worker-caps'], queen_seen: 'seen' },
      doing.day(-60),
      '14:00',
    );
}
