import { epochOf, type Moment } from '#units/moment.ts';
import type { LedgerLine } from './ledger-line.ts';
import { standingLines } from './standing-lines.ts';

/** Faeces got into a tube with a drone's semen. */
export type Soiling = { tube: string; at: Moment };

/** A dose: the ledger line that drew it and the queen who got it. */
export type ServedDose = { line: string; queen: string };

/** Tubes not to be used any more, and every queen served from them after they were soiled. */
export type Condemned = { tubes: readonly string[]; queens: readonly string[] };

/**
 * Faeces in the semen condemn the tube, every tube anything was drawn over into from it since, and name every queen served
 * from any of them since (bacteria are a main cause of death after insemination). Doses given before stay clean.
 */
export function condemnedBy(
  soilings: readonly Soiling[],
  lines: readonly LedgerLine[],
  doses: readonly ServedDose[],
): Condemned {
  const since = new Map<string, number>();
  const soil = (tube: string, epoch: number) => since.set(tube, Math.min(epoch, since.get(tube) ?? epoch));
  for (const soiling of soilings) soil(soiling.tube, epochOf(soiling.at));
  const isSoiled = (tube: string, epoch: number) => epoch >= (since.get(tube) ?? Number.POSITIVE_INFINITY);
  const { lines: standing, roots } = standingLines(lines);
  const served = new Set<string>();
  for (const line of standing) {
    if (line.act.kind === 'drawn-over' && isSoiled(line.act.from, line.epoch)) soil(line.tube, line.epoch);
    if (line.act.kind === 'dose' && isSoiled(line.tube, line.epoch)) served.add(line.root);
  }
  const queens = doses.filter((dose) => served.has(roots.get(dose.line) ?? dose.line)).map((dose) => dose.queen);
  return { tubes: [...since.keys()], queens: [...new Set(queens)] };
}
