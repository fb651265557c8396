import { addDays, type Day } from '#units/calendar-day.ts';
import { dayOfMoment, epochOf, type Moment, momentOn, zoneOf } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Action, Circumstances } from '../mechanism/action.ts';

/** Does the acts of an invented scenario, each on its own day, inside one act of the book. */
export type Doing = {
  /** Does an action as it was done on a day; throws when it refuses: the scenario is ours and must fit. */
  do<I, R, P>(action: Action<I, R, P>, input: I, on: Day, time?: string): Promise<R>;
  /** The same for an action that makes one record: its id. */
  make<I, R, P>(action: Action<I, R, P>, input: I, on: Day, time?: string): Promise<RecordId>;
  /** The moment a clock shows on a day. */
  at(on: Day, time: string): Moment;
  /** The day so many days from the day the sample is planted. */
  day(offset: number): Day;
  /** The next of a row of shares in [0, 1) that differ from one to the next and are the same for everybody. */
  share(): number;
  book: Circumstances['book'];
};

/** Steps of the golden ratio around a circle lie evenly and never meet (the Weyl sequence of it). */
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Acts done through their own actions, in order, with what each writes seen by the next. */
export function doingIn(circumstances: Circumstances): Doing {
  const { book, done } = circumstances;
  const zone = zoneOf(done);
  let turned = 0;
  const at = (on: Day, time: string) => momentOn(on, time, zone);
  const act: Doing['do'] = async (action, input, on, time = '10:00') => {
    const moment = at(on, time);
    const prepared = { receivedAt: epochOf(moment) } as never;
    const own: Circumstances = { ...circumstances, done: moment, day: dayOfMoment(moment), happened: true };
    const written = await action.run(input, own, prepared);
    const refused = (written.problems ?? []).filter(({ weight }) => weight === 'refuse');
    if (refused.length > 0) throw new Error(`the sample does not fit: ${action.name} ${JSON.stringify(refused)}`);
    await book.write(written.changes);
    return written.result;
  };
  return {
    book,
    at,
    do: act,
    make: async (action, input, on, time) => ((await act(action, input, on, time)) as { id: RecordId }).id,
    day: (offset) => addDays(circumstances.day, offset),
    share: () => {
      turned = (turned + GOLDEN) % 1;
      return turned;
    },
  };
}
