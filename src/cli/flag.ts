/** What a flag takes after it. Percentages are written `10%` or `10` and arrive as 0.1. */
export type FlagKind = 'text' | 'number' | 'whole' | 'percent' | 'day' | 'file' | 'nothing';

/** One `--flag` of a command. */
export type Flag = {
  takes: FlagKind;
  /** One sentence for `--help`. */
  what: string;
  /** Refused when absent. */
  needed?: boolean;
  /** May be given several times. */
  many?: boolean;
  /** Used when absent; written as on the command line. */
  initial?: string;
};

/** A word without dashes that a command takes, in order. */
export type Positional = { name: string; what: string; optional?: boolean };
