import type { Outcome, Fate as OutcomeFate } from '#domain/lessons/outcome.ts';
import { inOrder, isAnother } from '#domain/living/check.ts';
import { layingRecord } from '#domain/living/laying-record.ts';
import { type FateKind, livingState } from '#domain/living/living-state.ts';
import { drawnBy } from '#domain/semen/ledger.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { dayOfMoment, hoursBetween } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherIdentity } from './identity.ts';
import { type GatheredLedger, gatherLedger, ledgerReads } from './ledger.ts';
import { type GatheredLiving, gatherLiving, livingReads } from './living.ts';
import { dayOfInsemination } from './matings.ts';
import { gatherNames, nameReads } from './names.ts';

export const outcomeReads = [
  ...ledgerReads,
  ...livingReads,
  ...nameReads,
  'insemination',
  'insemination_exception',
  'bench_day',
  'saline_batch',
  'person',
  'cross',
  'co2_treatment',
  'co2_queen',
  'care',
  'care_queen',
] as const satisfies readonly KindName[];

/** Doses so close together are one insemination in parts; a later one is a second try with an outcome of its own. */
const SPLIT_DAYS = 7;
/** A carbon dioxide treatment so close to a dose belongs to it. */
const CO2_DAYS = 4;

/** One insemination of one queen (a split dose is one) and what became of it, with all that may have made the difference. */
export type RecordedOutcome = Outcome & {
  queenId: RecordId;
  /** The day eggs were first seen. */
  eggsOn: Day | null;
  brood: 'worker' | 'drone' | 'none' | 'unknown';
  inseminations: readonly RecordId[];
  cross: RecordId | null;
};

type Attempt = { queen: RecordId; from: Day | null; rows: Row<'insemination'>[]; next: Day | null };

/** The inseminations of one queen as attempts: those at most a week apart are one. */
function attemptsOf(queen: RecordId, rows: readonly Row<'insemination'>[]): Attempt[] {
  const sorted = [...rows].sort((a, b) => ((dayOfInsemination(a) ?? '') < (dayOfInsemination(b) ?? '') ? -1 : 1));
  const parts: Row<'insemination'>[][] = [];
  for (const row of sorted) {
    const last = parts.at(-1);
    const [before, now] = [last?.[0], row].map((each) => (each === undefined ? null : dayOfInsemination(each)));
    const isPart = before != null && now != null && daysBetween(before, now) <= SPLIT_DAYS;
    if (last !== undefined && isPart) last.push(row);
    else parts.push([row]);
  }
  const startOf = (part: readonly Row<'insemination'>[] | undefined) =>
    part?.[0] === undefined ? null : dayOfInsemination(part[0]);
  return parts.map((part, n) => ({ queen, from: startOf(part), rows: part, next: startOf(parts[n + 1]) }));
}

const FATES: Readonly<Record<FateKind, OutcomeFate>> = {
  died: 'lost',
  lost: 'lost',
  swarmed: 'lost',
  'not-taken': 'lost',
  superseded: 'superseded',
  'drone-layer': 'drone-layer',
  culled: 'culled',
  sold: 'sold',
  given: 'given',
  sampled: 'sampled',
};

type Ends = Pick<RecordedOutcome, 'laying' | 'layingOn' | 'checkedOn' | 'lostOn' | 'fate' | 'brood' | 'eggsOn'>;

/** What became of one attempt, as it is known today. An attempt that was followed by another did not lead to laying. */
function endsOf({ queen, from, next }: Attempt, living: GatheredLiving, today: Day): Ends {
  const facts = living.of(queen);
  const checks = inOrder(facts.checks).filter(
    ({ day }) => day <= today && (from === null || day >= from) && (next === null || day < next),
  );
  const end = next === null ? livingState(facts, today).end : null;
  const isHers = end !== null && (from === null || end.on === null || end.on.latest >= from);
  const isLost = next !== null || (isHers && end.isLoss);
  const record = layingRecord({ checks, since: from, isLost });
  const there = checks.filter((check) => !isAnother(check) && !check.sights.includes('queen-gone'));
  const looked = there.filter(
    ({ sights, queenSeen }) => queenSeen === 'seen' || sights.some((s) => s !== 'not-opened'),
  );
  return {
    laying: record.laying === null ? null : record.laying === 'yes',
    layingOn: record.layingOn,
    checkedOn: looked.at(-1)?.day ?? null,
    lostOn: isHers ? (end.on?.latest ?? null) : null,
    fate: isHers ? FATES[end.kind] : null,
    brood: record.brood,
    eggsOn: record.began?.latest ?? null,
  };
}

type Book = {
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

async function gatherBook(facts: Facts): Promise<Book> {
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
function storageDays(doses: readonly Row<'ledger_line'>[], { ledger }: Book): string {
  const days = doses.flatMap((dose) => {
    const since = drawnBy(ledger.story, dose.id)?.since;
    return since == null ? [] : [Math.max(0, Math.floor(hoursBetween(since.moment, dose.moment) / 24))];
  });
  return days.length === 0 ? '' : String(Math.max(...days));
}

/** The middle of the ages of the drones whose semen went into these tubes. */
function droneAge(doses: readonly Row<'ledger_line'>[], { ledger, catches }: Book): string {
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

function factorsOf({ queen, from, rows }: Attempt, book: Book): Record<string, string> {
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

/**
 * What became of every queen that was inseminated, as far as it is known by a day: the same facts an OUTCOMES.csv holds. In the
 * order of insemination. One row an insemination; doses up to a week apart are one, a later one is a second try.
 */
export async function gatherOutcomes(facts: Facts, today: Day): Promise<RecordedOutcome[]> {
  const whoWas = await gatherIdentity(facts);
  const living = await gatherLiving(facts);
  const nameOf = await gatherNames(facts);
  const book = await gatherBook(facts);
  const done = (await facts.find('insemination', { done: 1 })).filter((row) => (dayOfInsemination(row) ?? '') <= today);
  const byQueen = groupBy(done, (row) => whoWas(row.queen, dayOfInsemination(row)));
  const attempts = [...byQueen].flatMap(([queen, rows]) => attemptsOf(queen, rows));
  const outcomes = attempts.map(
    (attempt): RecordedOutcome => ({
      queen: nameOf(attempt.queen),
      queenId: attempt.queen,
      inseminated: attempt.from,
      ...endsOf(attempt, living, today),
      factors: factorsOf(attempt, book),
      inseminations: attempt.rows.map(({ id }) => id),
      cross: attempt.rows[0]?.cross ?? null,
    }),
  );
  return outcomes.sort((a, b) => ((a.inseminated ?? '9999') < (b.inseminated ?? '9999') ? -1 : 1));
}
