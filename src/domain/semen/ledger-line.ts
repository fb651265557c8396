import type { Moment } from '#units/moment.ts';
import type { Microlitre } from '#units/volume.ts';
import type { DroneSource } from './drone-source.ts';

/**
 * The two ends of a capillary: the one it is `filled` by, which semen also leaves by if nothing else is said, and the `other`.
 * What went in last by an end comes out first by that end.
 */
export type TubeEnd = 'filled' | 'other';

/** How the semen in a tube came together: drone by drone, stirred, wholly mixed, or nobody knows. */
export type Mixing = 'layered' | 'stirred' | 'homogenised' | 'unknown';

/** Drones whose semen is meant: a count (`null`: not counted) and, where read on the scale, µl of every single one. */
export type DroneReading = { drones: number | null; volumes: readonly number[] | null };

/** One thing that happened to a tube. Volumes in µl; what left the tube is positive too. */
export type LedgerAct =
  /** Semen drawn from the drones of a catch; `of` when the mother was told apart (paint, box), else the catch as a whole. */
  | ({
      kind: 'collected';
      catch: string;
      of: DroneSource | null;
      microlitres: Microlitre | null;
      end: TubeEnd;
    } & DroneReading)
  /** Drawn out of `from` by `fromEnd`, into this tube by `end`. */
  | { kind: 'drawn-over'; from: string; fromEnd: TubeEnd; microlitres: Microlitre; end: TubeEnd }
  | { kind: 'diluent'; microlitres: Microlitre; end: TubeEnd }
  | { kind: 'stirred' }
  | { kind: 'homogenised' }
  /** `microlitres` taken off after spinning; `semen` of it was semen (0 unless more was taken than there was diluent). */
  | { kind: 'spun-off'; microlitres: Microlitre; semen: Microlitre }
  | { kind: 'sealed' }
  | { kind: 'frozen' }
  | { kind: 'thawed' }
  | { kind: 'dose'; microlitres: Microlitre; end: TubeEnd }
  /** `end` unknown (null): taken evenly from all that was in the tube. `microlitres` null: all that was left. */
  | { kind: 'lost'; microlitres: Microlitre | null; end: TubeEnd | null }
  | { kind: 'broken'; microlitres: Microlitre | null; end: TubeEnd | null }
  | { kind: 'sent'; microlitres: Microlitre | null; end: TubeEnd }
  /**
   * Semen that came from elsewhere, as its sender describes it. `semen` is the undiluted part; `collectedAt` when it left the drones,
   * null where the sender does not say: then it is at least as old as its being received.
   */
  | ({
      kind: 'received';
      catch: string;
      microlitres: Microlitre;
      semen: Microlitre;
      mixing: Mixing;
      end: TubeEnd;
      collectedAt: Moment | null;
    } & DroneReading)
  | { kind: 're-measured'; microlitres: Microlitre }
  /** Only as a correction: the corrected line never happened. */
  | { kind: 'withdrawn' };

/** An entry of a tube's ledger: never edited; a later line may `correct` it and then stands in its place. */
export type LedgerLine = {
  id: string;
  tube: string;
  at: Moment;
  person: string | null;
  corrects: string | null;
  act: LedgerAct;
};

/** A capillary (or the tip itself, where there is no rack) keeps layers apart, a vial does not. */
export type Tube = { id: string; form: 'capillary' | 'vial' | 'tip' };
