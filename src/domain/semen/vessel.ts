import {
  type Column,
  gathered,
  NOTHING,
  putIn,
  resized,
  type Slice,
  scaled,
  semenOf,
  takeOut,
  volumeOf,
} from './column.ts';
import { summed } from './drone-sums.ts';
import type { Mixing, Tube, TubeEnd } from './ledger-line.ts';
import {
  type Batch,
  batchOf,
  dronesBehind,
  type MixingAssumption,
  type Origin,
  oldestOf,
  UNKNOWN_ORIGIN,
} from './origins.ts';
import type { StandingLine } from './standing-lines.ts';

/** A tube at one moment of its ledger: what stands in it and how it was treated. */
export type Vessel = {
  tube: Tube;
  column: Column;
  /** µl drawn beyond what the ledger held, since the last re-measuring. */
  overdrawn: number;
  /** The slice that last came out: what an overdrawn dose is taken to be more of. */
  lastOut: Slice | null;
  /** Stirred or unknown semen that the breeder wants read as layers: said so, not mixed. */
  readAsLayers: 'stirred' | 'unknown' | null;
  sealed: boolean;
  frozen: boolean;
  assumptions: { stirred: MixingAssumption; unknown: MixingAssumption };
};

/** A tube before its first line. */
export const emptyVessel = (tube: Tube, assumptions: Vessel['assumptions']): Vessel => ({
  tube,
  column: [],
  overdrawn: 0,
  lastOut: null,
  readAsLayers: null,
  sealed: false,
  frozen: false,
  assumptions,
});

/** µl left by the ledger: below zero when more was drawn than was ever in it. */
export const leftIn = (vessel: Vessel): number => volumeOf(vessel.column) - vessel.overdrawn;

/** What stands in the tube: mixed how? `empty` when nothing does. */
export function mixingOf(vessel: Vessel, origins: ReadonlyMap<string, Origin>): Mixing | 'empty' {
  if (volumeOf(vessel.column) <= NOTHING) return 'empty';
  const batch = batchOf(gathered(vessel.column), origins);
  return batch?.mixing ?? vessel.readAsLayers ?? 'layered';
}

/** What an overdrawn stretch is taken to hold: more of what came out last, or semen of unknown origin. */
function moreOf(last: Slice | null, microlitres: number): Slice {
  if (last === null || last.microlitres <= 0) {
    return { microlitres, pieces: [{ origin: UNKNOWN_ORIGIN, semen: microlitres }] };
  }
  return resized(last, microlitres);
}

/** Takes µl out by an end; more than there is gives an overdrawn tube, not an error. */
export function draw(vessel: Vessel, end: TubeEnd, microlitres: number) {
  const { taken, rest, missing } = takeOut(vessel.column, end, microlitres);
  const last = taken.at(-1) ?? vessel.lastOut;
  const slices = missing > 0 ? [...taken, moreOf(last, missing)] : taken;
  const after: Vessel = { ...vessel, column: rest, overdrawn: vessel.overdrawn + missing, lastOut: last };
  return { vessel: after, slices, missing };
}

/** Takes the same part of everything in the tube, for a loss nobody saw at an end. */
export function drawEvenly(vessel: Vessel, microlitres: number) {
  const whole = volumeOf(vessel.column);
  const part = whole > 0 ? Math.min(1, microlitres / whole) : 0;
  const rest = part < 1 ? vessel.column.map((slice) => scaled(slice, 1 - part)) : [];
  const missing = Math.max(0, microlitres - whole);
  const taken = vessel.column.map((slice) => scaled(slice, part));
  return { vessel: { ...vessel, column: rest, overdrawn: vessel.overdrawn + missing }, slices: taken, missing };
}

/** Slices put in by an end. An empty tube starts afresh: how its former content was mixed says nothing any more. */
export const fill = (vessel: Vessel, end: TubeEnd, entering: readonly Slice[]): Vessel => ({
  ...vessel,
  readAsLayers: vessel.column.length === 0 ? null : vessel.readAsLayers,
  column: putIn(vessel.column, end, entering),
});

/**
 * Everything in the tube made one. If all its semen is one batch already, that batch stays (diluent changes nothing in who
 * the fathers are); otherwise a new batch is entered in `origins` under the line that mixed it.
 * `layered`, as an assumption about stirred or unknown semen, leaves the column as it is and says so.
 */
export function mix(
  vessel: Vessel,
  line: StandingLine,
  options: { mixing: Batch['mixing']; origins: Map<string, Origin> },
): Vessel {
  const { mixing, origins } = options;
  const assumed = mixing === 'homogenised' ? 'homogenised' : vessel.assumptions[mixing];
  const pieces = gathered(vessel.column);
  if (pieces.length === 0) return vessel;
  if (assumed === 'layered') return { ...vessel, readAsLayers: mixing === 'homogenised' ? null : mixing };
  const batch = stillOne(batchOf(pieces, origins), mixing) ?? newBatch(vessel, line, { mixing, assumed, origins });
  origins.set(batch.id, batch);
  const slice = { microlitres: volumeOf(vessel.column), pieces: [{ origin: batch.id, semen: semenOf(vessel.column) }] };
  return { ...vessel, column: [slice], readAsLayers: null };
}

/** The batch that stays itself when it is mixed again, told how well it is mixed now. */
function stillOne(standing: Batch | null, mixing: Batch['mixing']): Batch | null {
  if (standing === null || (standing.mixing !== mixing && standing.assumed !== 'homogenised')) return null;
  return mixing === 'homogenised' ? { ...standing, mixing } : standing;
}

function newBatch(
  vessel: Vessel,
  line: StandingLine,
  options: Pick<Batch, 'mixing' | 'assumed'> & { origins: ReadonlyMap<string, Origin> },
): Batch {
  const pieces = gathered(vessel.column);
  return {
    kind: 'batch',
    id: `batch:${line.root}`,
    semen: semenOf(vessel.column),
    of: summed(pieces.flatMap((piece) => dronesBehind(piece, options.origins))),
    mixing: options.mixing,
    assumed: options.assumed,
    since: oldestOf(pieces, options.origins),
  };
}
