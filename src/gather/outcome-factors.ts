import { drawnBy } from '#domain/semen/ledger.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { dayOfMoment, hoursBetween } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { type GatheredLedger, gatherLedger } from './ledger.ts';

/** Doses so close together are one insemination in parts; a later one is a second try with an outcome of its own. */
export const SPLIT_DAYS = 7;
/** A carbon dioxide treatment so close to a dose belongs to it. */
const CO2_DAYS = 4;

/** One insemination of one queen, a split dose as one: its day, its records, and the day of the next try. */
export type Attempt = { queen: RecordId; from: Day | null; rows: Row<'insemination'>[]; next: Day | null };

/** What is written beside inseminations, by id. */
export type OutcomeBook = {
  ledger: GatheredLedger;
  people: ReadonlyMap<RecordId, string>;
  days: ReadonlyMap<RecordId, Row<'bench_day'>>;
  salines: ReadonlyMap<RecordId, string>;
  crosses: ReadonlyMap<RecordId, string>;
  tubes: ReadonlyMap<RecordId, string>;
  dosesOf: ReadonlyMap<RecordId, Row<'ledger_line'>[]>;
  catches: ReadonlyMap<RecordId, Row<'drone_catch'>>;
  exceptions: ReadonlyMap<RecordId, Row<'insemination_exception'>[]>;
  co2: ReadonlyMap<string, Day[]>;
  cares: ReadonlyMap<string, Row<'care'>[]>;
  queens: ReadonlyMap<string, Row<'queen'>>;
};

const named = <K extends 'code' | 'name', R extends { id: RecordId } & Record<K, string>>(rows: readonly R[], key: K) =>
  new Map(rows.map((row) => [row.id, row[key]]));

/** Reads it all once. */
export async function gatherOutcomeBook(facts: Facts): Promise<OutcomeBook> {
  const ledger = await gatherLedger(facts);
  const doses = ledger.lines.filter(({ step, insemination }) => step === 'dose' && insemination !== null);
  const treated = new Map((await facts.find('co2_treatment')).map(({ id, moment }) => [id, dayOfMoment(moment)]));
  const co2 = groupBy(await facts.find('co2_queen'), ({ queen }) => queen as string);
  const cares = new Map((await facts.find('care')).map((care) => [care.id, care]));
  const nursed = groupBy(await facts.find('care_queen'), ({ queen }) => queen as string);
  return {
    ledger,
    people: named(await facts.find('person'), 'name'),
    days: new Map((await facts.find('bench_day')).map((row) => [row.id, row])),
    salines: named(await facts.find('saline_batch'), 'code'),
    crosses: named(await facts.find('cross'), 'code'),
    tubes: named(ledger.tubes, 'code'),
    dosesOf: groupBy(doses, ({ insemination }) => insemination as RecordId),
    catches: new Map((await facts.find('drone_catch')).map((row) => [row.id, row])),
    exceptions: groupBy(await facts.find('insemination_exception'), ({ insemination }) => insemination),
    co2: new Map(
      [...co2].map(([queen, rows]) => [queen, rows.flatMap(({ treatment }) => treated.get(treatment) ?? [])]),
    ),
    cares: new Map([...nursed].map(([queen, rows]) => [queen, rows.flatMap(({ care }) => cares.get(care) ?? [])])),
    queens: new Map((await facts.find('queen')).map((row) => [row.id, row])),
  };
}

/** Different words once each, in the order met: "C-07+C-08". */
const joined = (words: readonly (string | null | undefined)[]): string =>
  [...new Set(words.filter((word): word is string => word != null && word !== ''))].join('+');

/** Whole days the oldest semen of these doses was kept; nothing where it is not known. */
function storageDays(doses: readonly Row<'ledger_line'>[], { ledger }: OutcomeBook): string {
  const days = doses.flatMap((dose) => {
    const since = drawnBy(ledger.story, dose.id)?.since;
    return since == null || since.orEarlier
      ? []
      : [Math.max(0, Math.floor(hoursBetween(since.moment, dose.moment) / 24))];
  });
  return days.length === 0 ? '' : String(Math.max(...days));
}

/** The middle of the ages of the drones whose semen went into these tubes. */
function droneAge(doses: readonly Row<'ledger_line'>[], { ledger, catches }: OutcomeBook): string {
  const tubes = new Set(doses.map(({ tube }) => tube));
  const from = ledger.lines.filter(({ tube, step }) => tubes.has(tube) && step === 'collected');
  const ages = from.flatMap((line) => {
    const caught = line.catch === null ? undefined : catches.get(line.catch);
    return caught?.age_from == null || caught.age_to === null ? [] : [(caught.age_from + caught.age_to) / 2];
  });
  return ages.length === 0 ? '' : String(Math.round(ages.reduce((sum, age) => sum + age, 0) / ages.length));
}

const near = (from: Day | null, days: number) => (day: Day) =>
  from !== null && Math.abs(daysBetween(from, day)) <= days;

/** Everything that may have made the difference, by the column names of OUTCOMES.csv. */
export function factorsOf({ queen, from, rows }: Attempt, book: OutcomeBook): Record<string, string> {
  const doses = rows.flatMap(({ id }) => book.dosesOf.get(id) ?? []);
  const days = rows.map(({ bench_day }) => (bench_day === null ? undefined : book.days.get(bench_day)));
  const given = rows.flatMap(({ given_ul }) => (given_ul === null ? [] : [given_ul]));
  const emerged = book.queens.get(queen)?.emerged ?? null;
  const cares = (book.cares.get(queen) ?? []).filter(({ care_from }) => near(from, SPLIT_DAYS)(care_from));
  const oddities = joined(rows.flatMap(({ id }) => (book.exceptions.get(id) ?? []).map(({ kind }) => kind)));
  const treated = (book.co2.get(queen) ?? []).filter(near(from, CO2_DAYS)).length;
  const person = (id: RecordId | null | undefined) => (id == null ? null : book.people.get(id));
  return {
    operator: joined(rows.map((row, n) => person(row.operator ?? days[n]?.operator))),
    batch: joined(doses.map(({ tube }) => book.tubes.get(tube))),
    tip: joined(rows.map(({ tip }) => tip)),
    dose: given.length === 0 ? '' : String(Math.round(given.reduce((sum, ul) => sum + ul, 0) * 100) / 100),
    co2: treated === 0 ? '' : String(treated),
    storage_days: storageDays(doses, book),
    bench_day: days[0]?.day ?? '',
    saline: joined(days.map((day) => (day?.saline == null ? null : book.salines.get(day.saline)))),
    drone_age: droneAge(doses, book),
    queen_age: emerged === null || from === null || from < emerged ? '' : String(daysBetween(emerged, from)),
    care: joined(cares.map(({ form }) => form)),
    exceptions: oddities === '' && days[0] !== undefined ? 'none' : oddities,
    cross: joined(rows.map(({ cross }) => (cross === null ? null : book.crosses.get(cross)))),
  };
}
