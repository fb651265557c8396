import type { Problem } from '#units/problem.ts';
import type { Piece } from './column.ts';
import type { Layer } from './contents.ts';
import type { Mixing, TubeEnd } from './ledger-line.ts';
import type { Batch, MixingAssumption, Origins, Since } from './origins.ts';
import type { Vessel } from './vessel.ts';

/** What a ledger can be doubted for. Facts are never refused: each stands as a worry until settled. */
export type LedgerDoubt = 'tube-overdrawn' | 'volume-not-read' | 'semen-of-unknown-origin';

/** Semen that left a tube by one line: a dose, a loss, a part sent away, a stretch drawn over. */
export type Drawn = {
  /** The line first written, also when it was corrected since. */
  line: string;
  tube: string;
  kind: 'dose' | 'drawn-over' | 'lost' | 'broken' | 'sent';
  /** The end of the tube it came out of; null when it was lost nobody saw where. */
  end: TubeEnd | null;
  microlitres: number;
  /** µl of semen in it: less than `microlitres` when diluted. */
  semen: number;
  pieces: readonly Piece[];
  mixing: Mixing | 'empty';
  /** What stirred or unknown semen was taken for; null where nothing had to be assumed. */
  assumed: MixingAssumption | null;
  /** True when neighbouring layers blur or the sample is a guess: everything but a homogenised batch and a single drone. */
  about: boolean;
  /** µl of it the ledger did not hold. */
  missing: number;
  since: Since | null;
};

/** What the ledger says of one tube now. */
export type TubeStory = {
  tube: string;
  /** µl left; below zero when overdrawn. */
  left: number;
  semen: number;
  overdrawn: number;
  mixing: Mixing | 'empty';
  assumed: MixingAssumption | null;
  /** From the end it was filled by (next to come out there) to the other. */
  layers: readonly Layer[];
  /** The shared batch every dose points to, when the whole tube is one; null otherwise. */
  batch: string | null;
  diluted: boolean;
  sealed: boolean;
  frozen: boolean;
  /** When the oldest semen left in it was taken from drones. */
  since: Since | null;
  /** Physical re-readings: what the ledger said, what was read. */
  readings: readonly { line: string; booked: number; read: number }[];
};

/** Everything the ledgers of all tubes tell. */
export type LedgerStory = {
  tubes: ReadonlyMap<string, TubeStory>;
  vessels: ReadonlyMap<string, Vessel>;
  /** What left a tube, by the line first written; read it through {@link drawnBy}. */
  draws: ReadonlyMap<string, Drawn>;
  roots: ReadonlyMap<string, string>;
  batches: ReadonlyMap<string, Batch>;
  origins: Origins;
  problems: readonly Problem<LedgerDoubt>[];
};

/** What stirred semen and semen nobody knows the mixing of is taken for; `tubes` overrides both for single tubes. */
export type LedgerAssumptions = {
  stirred: MixingAssumption;
  unknown: MixingAssumption;
  tubes: ReadonlyMap<string, MixingAssumption>;
};

/** Taken as stirred: each dose its own draws from the whole, between layers and a true mixture (genetics of a poorly mixed batch). */
export const USUAL_ASSUMPTIONS: LedgerAssumptions = { stirred: 'stirred', unknown: 'stirred', tubes: new Map() };
