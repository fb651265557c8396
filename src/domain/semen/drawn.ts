import type { Outflow } from './apply-line.ts';
import { gathered, type Piece, semenOf, volumeOf } from './column.ts';
import type { Drawn } from './ledger-story.ts';
import { type Batch, batchOf, type MixingAssumption, type Origins, oldestOf, originOf } from './origins.ts';
import type { StandingLine } from './standing-lines.ts';
import { mixingOf, type Vessel } from './vessel.ts';

/** A tube before a line, what came out of it by that line, and what kind of line it was. */
export type Noted = { before: Vessel; out: Outflow; kind: Drawn['kind'] };

/** What left a tube by one line, told for whoever points to that line later. */
export function drawnFrom(origins: Origins, line: StandingLine, { before, out, kind }: Noted): Drawn {
  const pieces = gathered(out.slices);
  const batch = batchOf(pieces, origins);
  return {
    line: line.root,
    tube: before.tube.id,
    kind,
    end: out.end,
    microlitres: volumeOf(out.slices),
    semen: semenOf(out.slices),
    pieces,
    mixing: batch?.mixing ?? mixingOf(before, origins),
    assumed: assumedFor(before, batch),
    about: !isExact(pieces, origins),
    missing: out.missing,
    since: oldestOf(pieces, origins),
  };
}

/** Nothing blurs in a homogenised batch, nor where all of it came from one drone. */
function isExact(pieces: readonly Piece[], origins: Origins): boolean {
  const [only, ...others] = pieces;
  if (only === undefined || others.length > 0) return false;
  const origin = originOf(origins, only.origin);
  return origin.kind === 'drone' || (origin.kind === 'batch' && origin.mixing === 'homogenised');
}

/** What stirred or unknown semen in the tube is taken for; null where nothing is assumed. */
export const assumedFor = (vessel: Vessel, batch: Batch | null): MixingAssumption | null => {
  if (batch !== null) return batch.mixing === 'homogenised' ? null : batch.assumed;
  return vessel.readAsLayers === null ? null : 'layered';
};
