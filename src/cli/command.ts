import type { Flag, Positional } from './flag.ts';
import type { Given } from './given.ts';

export type { Flag } from './flag.ts';

/** Rows for a person; the same facts as the JSON. */
export type Table = { title?: string; columns: readonly string[]; rows: readonly (readonly Cell[])[] };
export type Cell = string | number | null;

/** What a command answers: the JSON document, and the same as tables. */
export type Reply = { json: unknown; tables: readonly Table[]; notes?: readonly string[] };

/** What a command may touch of the machine. Built in main/; in tests a folder in memory. */
export type World = {
  read(path: string): Promise<Uint8Array>;
  write(path: string, bytes: Uint8Array | string): Promise<void>;
  /** A line on standard error. */
  tell(line: string): void;
};

/** One command of `combwright`. It throws WrongInput (exit 2) when what it was given is wrong. */
export type Command<W extends World = World> = {
  name: string;
  /** One sentence for the list of commands. */
  summary: string;
  positionals: readonly Positional[];
  flags: Readonly<Record<string, Flag>>;
  run(given: Given, world: W): Promise<Reply>;
};
