import type { z } from 'zod';
import type { Ports } from '#ports/ports.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Moment } from '#units/moment.ts';
import type { Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';

/** The place of the product an action belongs to; `edge` is history, settings and what every place shares. */
export type Place = 'today' | 'stock' | 'crosses' | 'rearing' | 'semen' | 'bench' | 'yard' | 'edge';

/** What an action's body knows besides its input. */
export type Circumstances = {
  /** Reads the book as it stands inside this act. */
  book: Book;
  /** The id of the next record this act makes: the same on every try and on every device. */
  newId(): RecordId;
  /** When it was done, and the calendar day of that. */
  done: Moment;
  day: Day;
  /** It has happened already: doubts are recorded, not refused. */
  happened: boolean;
};

/** What an action wants written, and what it says. `changes` are not written when any problem refuses. */
export type Written<R> = {
  changes: readonly Change[];
  result: R;
  problems?: readonly Problem[];
  /** Acts this one steps back. */
  undoes?: readonly RecordId[];
};

/** One thing a person can do. `prepare` may compute and read; `run` may wait for nothing but the book. */
export type Action<I = unknown, R = unknown, P = unknown> = {
  name: string;
  place: Place;
  /** One sentence for the interface description and the command line. */
  what: string;
  input: z.ZodType<I>;
  prepare?(input: I, ports: Ports): Promise<P>;
  run(input: I, circumstances: Circumstances, prepared: P): Promise<Written<R>>;
};

/** Declares an action; only there to infer its types. */
export const action = <I, R, P = undefined>(declared: Action<I, R, P>): Action<I, R, P> => declared;
