import type { Entry, KindName, Row } from '#records/kinds.ts';
import type { Moment } from '#units/moment.ts';
import type { Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';

/** A condition on one field: a value, `null` (not known), or any of several values. */
type Condition<T> = T | readonly T[];
export type Where<N extends KindName> = { readonly [F in keyof Row<N>]?: Condition<Row<N>[F]> };

/** What can be read. Everything reads through this; nothing else touches a database. */
export interface Facts {
  /** The record, or `null` when there is none. */
  get<N extends KindName>(kind: N, id: RecordId | null | undefined): Promise<Row<N> | null>;
  /** Records that meet every condition, in order of id (that is, of time of entry). */
  find<N extends KindName>(kind: N, where?: Where<N>): Promise<Row<N>[]>;
  /** How many meet every condition. */
  count<N extends KindName>(kind: N, where?: Where<N>): Promise<number>;
  /** Lets other work of this process have its turn: asked for between the steps of long work on what was read. */
  turn(): Promise<void>;
  /**
   * What `make` works out of records of these kinds and of nothing else. A question gets what was made before as long as no act has touched one of them;
   * it is everybody's, and not to be written to. `before` is what was made last, to go on from. An act being written has everything made for it alone.
   */
  lasting<T>(name: string, kinds: readonly KindName[], make: (before: T | null) => Promise<T>): Promise<T>;
}

/** The kinds a question reads; 'all' for those that look through everything. */
export type Reads = readonly KindName[] | 'all';

/** A change of one record: a new one (whole row), some fields of one that exists, or its removal. */
export type Change = {
  readonly [N in KindName]:
    | { readonly kind: N; readonly id: RecordId; readonly create: Row<N> }
    | { readonly kind: N; readonly id: RecordId; readonly set: Partial<Entry<N>> }
    | { readonly kind: N; readonly id: RecordId; readonly drop: true };
}[KindName];

/** One thing a person did, as it is sent: its id is made by the device that did it. */
export type Act = {
  id: RecordId;
  name: string;
  input: unknown;
  /** The highest `seq` the person had on the screen when they did it. */
  seen?: number | undefined;
  /** When it was done, by the device's clock (corrected); the store adds when it was recorded. */
  done: Moment;
  device?: string | undefined;
  /** Order among the acts of one device. */
  n?: number | undefined;
  who?: string | undefined;
  /** True when it has happened already (bench, replay, back-dated): doubts are recorded, not refused. */
  happened?: boolean | undefined;
};

/** What was done, and to which records. */
export interface Journal {
  /** Acts, oldest first. */
  acts(of: HistoryOf): Promise<RecordedAct[]>;
  /** Changes of records, in the order they were made. */
  changes(of: HistoryOf): Promise<RecordedChange[]>;
  /** Parked acts nobody has decided on, oldest first. */
  parked(): Promise<ParkedAct[]>;
}

/** The book while one act is being written: reads see what the act has written so far. */
export interface Book extends Facts, Journal {
  write(changes: readonly Change[]): Promise<void>;
  /** The kinds and ids written so far. */
  touched(): Touched;
}

/** The kinds and ids of records an act changed. */
export type Touched = { readonly kind: KindName; readonly ids: readonly RecordId[] }[];

/** An act that is kept, with its answer and what is worth saying. */
export type Kept = {
  result: unknown;
  warnings: readonly Problem[];
  /** Acts this one steps back. */
  undoes?: readonly RecordId[];
};
/** An act that left everything as it was, and why. */
export type Refused = { problems: readonly Problem[] };
/** What became of a kept act. `again`: it had been done before and nothing was changed. */
export type Done = {
  seq: number;
  again: boolean;
  result: unknown;
  touched: Touched;
  warnings: readonly Problem[];
};

/** A recorded act, as history shows it. */
export type RecordedAct = {
  id: RecordId;
  seq: number;
  name: string;
  input: unknown;
  who: string | null;
  device: string | null;
  done: Moment;
  recorded: Moment;
  undoes: readonly RecordId[];
  /** The standing act that stepped this one back, if any. */
  steppedBackBy: RecordId | null;
};

/** One record's part in an act: changed fields before and after; `null` = the record was not there. */
export type RecordedChange = {
  seq: number;
  kind: KindName;
  record: RecordId;
  before: Readonly<Record<string, unknown>> | null;
  after: Readonly<Record<string, unknown>> | null;
};

/** Which part of the history to tell. */
export type HistoryOf = {
  /** Only these records. */
  records?: readonly RecordId[];
  /** Only these acts. */
  acts?: readonly RecordId[];
  /** Only acts that step others back. */
  steppingBack?: true;
  /** Only changes of records of these kinds. */
  kinds?: readonly KindName[];
  /** Only acts with a higher number. */
  after?: number;
  /** At most this many, the newest. */
  newest?: number;
};

/** An act a device sent that could not be done. */
export type ParkedAct = { act: Act; problems: readonly Problem[]; received: Moment };

/** Bytes kept by content hash (photos, uploads); outside the journal's images. */
export interface KeptBytes {
  bytes(hash: string): Promise<{ form: string; bytes: Uint8Array } | null>;
}

/** The database, whichever it is. */
export interface Store extends Journal, KeptBytes {
  /** Reads inside one snapshot, narrowed to `kinds`: asking for another kind throws, so a forgotten one cannot go stale. */
  read<T>(kinds: Reads, ask: (facts: Facts & Journal & KeptBytes) => Promise<T>): Promise<{ answer: T; seq: number }>;
  /**
   * Records one act in one transaction. The body reads and writes through the book; when it answers with problems, or
   * throws, everything is left as it was. The same id again does nothing and gives the first answer; the same id with
   * other content is refused. The body may wait for nothing but the book.
   */
  act(act: Act, body: (book: Book) => Promise<Kept | Refused>): Promise<Done | Refused>;
  /** The number of the last act. */
  seq(): Promise<number>;
  /** Keeps an act that could not be done, with its problems, until a person decides. */
  park(act: Act, problems: readonly Problem[]): Promise<void>;
  keepBytes(hash: string, form: string, bytes: Uint8Array): Promise<void>;
  /** Changes with every restore, so that devices offer their acts again. */
  epoch(): Promise<string>;
  /** Calls back after every act, also one recorded by another process. The answer stops it. */
  listen(heard: (news: News) => void): () => void;
  close(): Promise<void>;
}

/** That an act was recorded: its number and what it touched. */
export type News = { seq: number; touched: Touched };
