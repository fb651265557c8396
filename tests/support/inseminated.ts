/** Twelve sisters of an invented station, each inseminated on 12 June 2027 and still without a look. */
import { creating } from '#actions/mechanism/recording.ts';
import { countBack } from '#domain/rearing/count-back.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import type { Change, Store } from '#ports/store.ts';
import { addDays, type Day, day } from '#units/calendar-day.ts';
import { type Moment, momentAt } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { noon } from './databases.ts';
import { does, newId } from './doing.ts';

export const inseminatedOn = day('2027-06-12');
/** Noon of a day in Berlin. */
export const at = (on: Day): Moment => momentAt(Date.parse(`${on}T10:00:00Z`), 'Europe/Berlin');
/** So many days after the insemination. */
export const after = (days: number): Day => addDays(inseminatedOn, days);

/** Writes records for which the place that makes them has its own actions, as one act. */
export async function writes(store: Store, changes: readonly Change[]): Promise<void> {
  const act = { id: newId(), name: 'test-writes', input: { n: changes.length }, done: noon };
  await store.act(act, async (book) => {
    await book.write(changes);
    return { result: null, warnings: [] };
  });
}

export type Twelve = {
  yard: RecordId;
  nucs: RecordId[];
  queens: RecordId[];
  dam: RecordId;
  cross: RecordId;
  operators: RecordId[];
};

/** Queens 27-001 … 27-012 in nucs N-01 … N-12; Mira did the first seven, Tadek the others; tip 3 the first five. */
export async function twelveInseminated(store: Store): Promise<Twelve> {
  const yard = await does(store, 'record-yard', { name: 'Heath', zone: 'Europe/Berlin', walking_order: 1 });
  const dam = await does(store, 'record-queen', { queen: { code: '25-001', emerged: '2025-06-01' } });
  const operators = [
    await does(store, 'record-person', { name: 'Mira' }),
    await does(store, 'record-person', { name: 'Tadek' }),
  ];
  const nucs: RecordId[] = [];
  const queens: RecordId[] = [];
  for (let n = 1; n <= 12; n++) {
    const two = String(n).padStart(2, '0');
    const colony = await does(store, 'record-colony', {
      colony: { code: `N-${two}`, form: 'nuc', since: '2027-06-01' },
      yard,
      spot: 13 - n,
    });
    nucs.push(colony);
    queens.push(
      await does(store, 'record-queen', {
        queen: { code: `27-0${two}`, emerged: '2027-06-04', dam },
        mark: { colour: 'yellow', disc: n },
        stands: { colony, since: '2027-06-04' },
      }),
    );
  }
  const cross = newId();
  const bench = newId();
  const tubes = [newId(), newId()];
  const wish = { inseminate: inseminatedOn, queens: 12, profile: standardText };
  const changes: Change[] = [
    creating('cross', cross, { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: inseminatedOn }),
    creating('cross_dam', newId(), { cross, queen: dam }),
    creating('bench_day', bench, { day: inseminatedOn, zone: 'Europe/Berlin' }),
    ...tubes.map((tube, n) => creating('tube', tube, { code: `C-0${n + 7}`, form: 'capillary' })),
    ...tubes.map((tube, n) =>
      creating('ledger_line', newId(), {
        tube,
        place: 0,
        step: 'collected',
        moment: at(after(n === 0 ? -2 : 0)),
        volume_ul: 60,
      }),
    ),
    ...countBack(wish).map(({ key, day: due, from, to }) =>
      creating('task', newId(), {
        cross,
        key,
        day: due,
        span_from: from,
        span_to: to,
        uid: `${key}@test`,
        sequence: 0,
      }),
    ),
  ];
  queens.forEach((queen, n) => {
    const insemination = newId();
    const tube = tubes[n < 6 ? 0 : 1] as RecordId;
    changes.push(
      creating('insemination', insemination, {
        queen,
        bench_day: bench,
        cross,
        day: inseminatedOn,
        moment: at(inseminatedOn),
        operator: operators[n < 7 ? 0 : 1] as RecordId,
        tip: n < 5 ? '3' : '4',
        given_ul: 8,
        done: 1,
      }),
      creating('ledger_line', newId(), {
        tube,
        place: n + 1,
        step: 'dose',
        moment: at(inseminatedOn),
        volume_ul: 8,
        insemination,
      }),
    );
  });
  await writes(store, changes);
  return { yard, nucs, queens, dam, cross, operators };
}
