/**
 * Something wrong with what was asked, told to a person: where, what, and the values its sentence needs.
 * The sentence itself lives in words/, one per code and language.
 *
 * - `refuse`: impossible; never recorded.
 * - `doubt`: implausible; stops a plan and a form, but an act that has happened is recorded and the doubt stands as a worry.
 * - `warn`: said, never in the way.
 */
export type Problem<Code extends string = string> = {
  /** Field path in the input, `queens.3.dose`, or '' for the whole. */
  path: string;
  code: Code;
  values: Readonly<Record<string, string | number>>;
  weight: 'refuse' | 'doubt' | 'warn';
};

type Values = Problem['values'];

/** An impossible thing at `path`. */
export const refuse = <C extends string>(path: string, code: C, values: Values = {}): Problem<C> => ({
  path,
  code,
  values,
  weight: 'refuse',
});

/** An implausible thing at `path`. */
export const doubt = <C extends string>(path: string, code: C, values: Values = {}): Problem<C> => ({
  path,
  code,
  values,
  weight: 'doubt',
});

/** A thing worth saying at `path`. */
export const warn = <C extends string>(path: string, code: C, values: Values = {}): Problem<C> => ({
  path,
  code,
  values,
  weight: 'warn',
});
