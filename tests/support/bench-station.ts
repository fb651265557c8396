import type { Store } from '#ports/store.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { questions } from '#questions/registry.ts';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { does, portsOver } from './doing.ts';

/** A clock time on the bench day of these tests. */
export const at = (clock: string): Moment => `2027-06-12T${clock}:00+02:00[Europe/Berlin]` as Moment;

/** Asks a question through the same road as every screen. */
export async function asks<A>(store: Store, name: string, input: unknown): Promise<A> {
  const question = questions.get(name);
  if (question === undefined) throw new Error(`no question ${name}`);
  const answered = await ask(question, input, portsOver(store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer as A;
}

export type Station = {
  day: RecordId;
  crossB: RecordId;
  crossA: RecordId;
  mother: RecordId;
  other: RecordId;
  queens: RecordId[];
  nucs: RecordId[];
  stranger: RecordId;
  tubes: RecordId[];
};

/** Ids of an invented station: cross B with `queens` virgins in cages 1 … n, two tubes of its mother; cross A with one of each. */
export async function station(store: Store, queens = 12): Promise<Station> {
  const make = (name: string, input: unknown) => does(store, name, input, { happened: true, done: at('08:00') });
  const mother = await make('record-queen', { queen: { code: 'M-07', emerged: '2025-06-02' } });
  const other = await make('record-queen', { queen: { code: 'N-03', emerged: '2025-06-05' } });
  const dam = await make('record-queen', { queen: { code: '25-020', emerged: '2025-05-20' } });
  const crossed = async (code: string, of: RecordId) => {
    const plan = { code, queens_wanted: queens, dose_ul: 8, inseminate_on: '2027-06-12' };
    const drone_sources = [{ queen: of }];
    return make('plan-cross', { cross: plan, dams: [dam], drone_sources, drones_there: true, virgins_there: true });
  };
  const crossB = await crossed('B', mother);
  const crossA = await crossed('A', other);
  const virgins: RecordId[] = [];
  const nucs: RecordId[] = [];
  for (let i = 1; i <= queens; i++) {
    const nuc = await make('record-colony', { colony: { code: `N${i}`, form: 'nuc' } });
    nucs.push(nuc);
    const queen = { code: `27-${String(i).padStart(3, '0')}`, emerged: '2027-06-04' };
    virgins.push(await make('record-queen', { queen, stands: { colony: nuc, since: '2027-06-04' } }));
  }
  const stranger = await make('record-queen', { queen: { code: '27-091', emerged: '2027-06-04' } });
  const tubes: RecordId[] = [];
  for (const [code, of, volume] of [
    ['C-07', mother, 52],
    ['C-08', mother, 60],
    ['C-01', other, 30],
  ] as const) {
    await make('tally-drones', {
      gave: volume,
      sources: [{ mother: of }],
      into: [{ new: { code }, start: 0, end: volume }],
    });
    const [tube] = await store.read(['tube'], (facts) => facts.find('tube', { code })).then(({ answer }) => answer);
    if (tube !== undefined) tubes.push(tube.id);
  }
  const day = await make('open-bench-day', { day: '2027-06-12', first_tip: 3 });
  const queue = virgins.map((queen, i) => ({ queen, cage: String(i + 1), home: nucs[i] }));
  await make('queue-queens', { bench_day: day, cross: crossB, queens: queue });
  await make('queue-queens', { bench_day: day, cross: crossA, queens: [{ queen: stranger, cage: '91' }] });
  return { day, crossB, crossA, mother, other, queens: virgins, nucs, stranger, tubes };
}
