import { epochOf } from '#units/moment.ts';
import { NOTHING, resized, type Slice, scaled, semenOf, volumeOf } from './column.ts';
import { countedSquares } from './drone-sums.ts';
import { GUESSED_MICROLITRES_PER_DRONE } from './effective-drones.ts';
import type { LedgerAct, TubeEnd } from './ledger-line.ts';
import { batchOf, type Origin, type Since, type Stretch, UNKNOWN_ORIGIN } from './origins.ts';
import type { StandingLine } from './standing-lines.ts';
import { draw, drawEvenly, fill, leftIn, mix, type Vessel } from './vessel.ts';

type Act<K extends LedgerAct['kind']> = Extract<LedgerAct, { kind: K }>;

/** What left a tube by one line: slices in the order they came out, and what the ledger did not hold. */
export type Outflow = { vessel: Vessel; slices: readonly Slice[]; missing: number; end: TubeEnd | null };

/** µl an act of collecting brought in: the reading, else the sum of the drones, else about 1 µl a drone. */
export function collectedVolume(act: Pick<Act<'collected'>, 'microlitres' | 'drones' | 'volumes'>): number {
  if (act.microlitres !== null) return act.microlitres;
  if (act.volumes !== null) return act.volumes.reduce((sum, volume) => sum + volume, 0);
  return (act.drones ?? 0) * GUESSED_MICROLITRES_PER_DRONE;
}

/** Single drones that are known one by one: their own readings, or the one drone there was; null otherwise. */
function oneByOne(act: Act<'collected' | 'received'>, semen: number): readonly number[] | null {
  if (act.volumes !== null && act.volumes.length > 0) {
    const sum = act.volumes.reduce((total, volume) => total + volume, 0);
    return act.volumes.map((volume) => (sum > 0 ? (volume * semen) / sum : semen / (act.volumes?.length ?? 1)));
  }
  return act.drones === 1 ? [semen] : null;
}

type Arrival = { line: StandingLine; act: Act<'collected' | 'received'>; microlitres: number; semen: number };

function stretchOf({ act, semen }: Arrival, since: Since): Stretch {
  const counted = act.drones !== null && act.drones > 0;
  const drones = counted ? (act.drones ?? 0) : Math.max(1, semen / GUESSED_MICROLITRES_PER_DRONE);
  const of = act.kind === 'collected' ? act.of : null;
  const squares = countedSquares(semen, drones);
  return {
    kind: 'stretch',
    since,
    sums: { catch: act.catch, of, semen, squares, drones, guessed: true },
  } satisfies Stretch;
}

/** Fresh semen is as old as its line; semen from elsewhere as old as its sender says, or at least as old as its line. */
function sinceOf({ line, act }: Arrival): Since {
  if (act.kind === 'collected') return { moment: line.at, epoch: line.epoch, orEarlier: false };
  const moment = act.collectedAt ?? line.at;
  return { moment, epoch: epochOf(moment), orEarlier: act.collectedAt === null };
}

/** Enters fresh semen in the origins book and gives its slices, the first drone first. */
function arriving(arrival: Arrival, origins: Map<string, Origin>): Slice[] {
  const { line, act, microlitres, semen } = arrival;
  const since = sinceOf(arrival);
  const single = oneByOne(act, semen);
  if (single === null) {
    origins.set(`line:${line.root}`, stretchOf(arrival, since));
    return [{ microlitres, pieces: [{ origin: `line:${line.root}`, semen }] }];
  }
  const of = act.kind === 'collected' ? act.of : null;
  return single.map((volume, k) => {
    const origin = `drone:${line.root}:${k + 1}`;
    const sums = { catch: act.catch, of, semen: volume, squares: volume * volume, drones: 1, guessed: false };
    origins.set(origin, { kind: 'drone', sums, since });
    return { microlitres: semen > 0 ? (volume * microlitres) / semen : 0, pieces: [{ origin, semen: volume }] };
  });
}

/** A vial keeps no layers: whatever was added to it lies nobody knows how, unless it is all one batch. */
function settled(vessel: Vessel, line: StandingLine, origins: Map<string, Origin>): Vessel {
  if (vessel.tube.form !== 'vial') return vessel;
  const pieces = vessel.column.flatMap((slice) => slice.pieces);
  const one = batchOf(pieces, origins);
  return one !== null && vessel.column.length === 1
    ? vessel
    : mix(vessel, line, { mixing: one?.mixing ?? 'unknown', origins });
}

/** Semen from the drones of a catch. */
export function collect(vessel: Vessel, line: StandingLine, origins: Map<string, Origin>): Vessel {
  if (line.act.kind !== 'collected') return vessel;
  const volume = collectedVolume(line.act);
  const slices = volume > 0 ? arriving({ line, act: line.act, microlitres: volume, semen: volume }, origins) : [];
  return settled(fill(vessel, line.act.end, slices), line, origins);
}

/** Semen from another breeder, mixed as they say. */
export function receive(vessel: Vessel, line: StandingLine, origins: Map<string, Origin>): Vessel {
  if (line.act.kind !== 'received') return vessel;
  const { act } = line;
  const slices = arriving({ line, act, microlitres: act.microlitres, semen: act.semen }, origins);
  const own = fill({ ...vessel, column: [] }, act.end, slices);
  const mixed = act.mixing === 'layered' ? own : mix(own, line, { mixing: act.mixing, origins });
  const joined = fill({ ...vessel, readAsLayers: mixed.readAsLayers }, act.end, mixed.column);
  return settled({ ...joined, readAsLayers: mixed.readAsLayers }, line, origins);
}

/** Slices drawn out of another tube, entering by an end. */
export const drawIn = (
  vessel: Vessel,
  line: StandingLine,
  entering: { slices: readonly Slice[]; end: TubeEnd; origins: Map<string, Origin> },
): Vessel => settled(fill(vessel, entering.end, entering.slices), line, entering.origins);

/** Diluent: spread through mixed semen, a slice of its own at the end of a layered column. */
export function dilute(vessel: Vessel, act: Act<'diluent'>, origins: ReadonlyMap<string, Origin>): Vessel {
  const [only, ...others] = vessel.column;
  if (only !== undefined && others.length === 0 && batchOf(only.pieces, origins) !== null) {
    return { ...vessel, column: [{ ...only, microlitres: only.microlitres + act.microlitres }] };
  }
  return fill(vessel, act.end, [{ microlitres: act.microlitres, pieces: [] }]);
}

/** Spinning settles the semen and takes diluent off; what was only layered before lies stirred after. */
export function spinOff(vessel: Vessel, line: StandingLine, origins: Map<string, Origin>): Outflow {
  if (line.act.kind !== 'spun-off') return { vessel, slices: [], missing: 0, end: null };
  const { microlitres, semen: said } = line.act;
  const mixed =
    batchOf(
      vessel.column.flatMap((slice) => slice.pieces),
      origins,
    ) === null
      ? mix(vessel, line, { mixing: 'stirred', origins })
      : vessel;
  const whole = volumeOf(mixed.column);
  const semen = semenOf(mixed.column);
  const lost = Math.min(semen, Math.max(said, microlitres - (whole - semen), 0));
  const left = Math.max(0, whole - microlitres);
  const kept = semen > 0 ? (semen - lost) / semen : 0;
  const column =
    left <= NOTHING ? [] : mixed.column.map((slice) => thinned(slice, { volume: left / whole, semen: kept }));
  const missing = Math.max(0, microlitres - whole);
  return { vessel: { ...mixed, column, overdrawn: mixed.overdrawn + missing }, slices: [], missing, end: null };
}

const thinned = (slice: Slice, part: { volume: number; semen: number }): Slice => ({
  microlitres: slice.microlitres * part.volume,
  pieces: slice.pieces.map((piece) => ({ ...piece, semen: piece.semen * part.semen })),
});

/** A physical re-reading: everything left is taken to have shrunk (or been more) alike, and nothing is overdrawn any more. */
export function remeasure(vessel: Vessel, microlitres: number): Vessel {
  const booked = volumeOf(vessel.column);
  if (microlitres <= NOTHING) return { ...vessel, column: [], overdrawn: 0 };
  if (booked > NOTHING) {
    return { ...vessel, overdrawn: 0, column: vessel.column.map((slice) => scaled(slice, microlitres / booked)) };
  }
  const last = vessel.lastOut;
  const slice =
    last !== null && last.microlitres > 0
      ? resized(last, microlitres)
      : { microlitres, pieces: [{ origin: UNKNOWN_ORIGIN, semen: microlitres }] };
  return { ...vessel, overdrawn: 0, column: [slice] };
}

/** What a line takes out of its tube by an end (evenly when no end is told); all that is left when no volume is told. */
export function takeFrom(vessel: Vessel, said: { microlitres: number | null; end: TubeEnd | null }): Outflow {
  const microlitres = said.microlitres ?? Math.max(0, leftIn(vessel));
  const out = said.end === null ? drawEvenly(vessel, microlitres) : draw(vessel, said.end, microlitres);
  return { ...out, end: said.end };
}
