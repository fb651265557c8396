import type { Ports } from '#ports/ports.ts';
import type { Refused } from '#ports/store.ts';
import { sayProblem } from '#words/say.ts';
import type { World } from './command.ts';
import { type InputProblem, WrongInput } from './wrong-input.ts';

/** What the commands that work on a database may touch besides files. */
export type BookWorld = World & {
  /** Opens the book: the file given by `--db`, DATABASE_URL, or the user's own. It is closed when the command ends. */
  book(db: string | undefined): Promise<Ports>;
  /** Serves the pages until stopped. */
  serve(): Promise<void>;
  /** Copies the book whole, also while it is in use. */
  safeCopy(db: string | undefined, to: string): Promise<void>;
  /** Puts a safe copy or an export in the place of the book; gives the name the former one is kept under. */
  restore(db: string | undefined, from: string): Promise<{ keptAs: string | null }>;
  /** Writes the book in open form into a folder, or a file ending in .zip. */
  export(db: string | undefined, to: string): Promise<{ name: string; rows: number }[]>;
  /** Problems of the database itself; none when it is sound. */
  checkBook(db: string | undefined): Promise<string[]>;
};

/** The flag every command on a database takes. */
export const dbFlag = { takes: 'file', what: 'The database file; otherwise DATABASE_URL or your own book' } as const;

/** Refusals of an action or question as wrong input, in words. */
export function refusedInput({ problems }: Refused): WrongInput {
  return new WrongInput(
    problems.map(
      ({ path, code, values }): InputProblem => ({
        ...(path === '' ? {} : { column: path }),
        found: code,
        remedy: sayProblem({ code, values }),
      }),
    ),
  );
}
