import type { PlannedMating } from '#domain/stock-book/plan.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Moment, parseMoment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { creating } from '../mechanism/recording.ts';
import { byName, type Named, named } from './places.ts';

type BatchMating = Extract<PlannedMating, { how: 'batch' }>;

/** µl of a dose of which no volume is written: the usual dose (common practice). */
export const USUAL_DOSE = 8;
/** Batches of semen by their code: homogenised vials, found or made. */
export const batchTubes = async (book: Book, newId: () => RecordId): Promise<Named> =>
  named(
    byName(await book.find('tube'), ({ code }) => code),
    (code) => {
      const id = newId();
      return { id, changes: [creating('tube', id, { code, form: 'vial', mixing: 'homogenised' })] };
    },
  );

/** Noon of a day where the import is done; without a day, the moment of the import. */
export const noonOf = (day: Day | null, done: Moment): Moment => {
  if (day === null) return done;
  const zone = /\[([^\]]+)\]$/.exec(done)?.[1] ?? 'UTC';
  return parseMoment(`${day}T12:00:00[${zone}]`) ?? done;
};

type Dosing = { queen: RecordId; mating: BatchMating; tube: RecordId; place: number; done: Moment; newId(): RecordId };

/** A queen inseminated from a batch: the insemination and the dose drawn from the batch's tube. */
export function doseChanges({ queen, mating, tube, place, done, newId }: Dosing): Change[] {
  const insemination = newId();
  const volume = mating.dose ?? USUAL_DOSE;
  return [
    creating('insemination', insemination, {
      queen,
      day: mating.on,
      done: 1,
      given_ul: mating.dose,
      drones: mating.drones,
    }),
    creating('ledger_line', newId(), {
      tube,
      place,
      step: 'dose',
      moment: noonOf(mating.on, done),
      volume_ul: volume,
      semen_ul: volume,
      insemination,
    }),
  ];
}
