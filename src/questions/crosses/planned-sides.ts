import { z } from 'zod';
import type { Assumption } from '#domain/pedigree/assumption.ts';
import type { PedigreeFacts, SourceFact } from '#domain/pedigree/facts.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { assumptionsOf } from '#domain/pedigree/pedigree.ts';
import { NONE, OPEN_MATING_DRONES } from '#domain/pedigree/stock.ts';
import { assumptionsBehind } from '#domain/stock-book/behind.ts';
import { indexPedigree } from '#domain/stock-book/drone-side.ts';
import { type GatheredPedigree, gatherPedigree, pedigreeReads } from '#gather/pedigree.ts';
import type { Facts } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { KindName } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';

/** Effective drones of one dose where the breeder says none (contracts.md: 10). */
export const USUAL_DRONES = 10;

export const sourceInput = z.strictObject({
  queen: idShape.nullable().optional(),
  sister_group: idShape.nullable().optional(),
  line: idShape.nullable().optional(),
  share: z.number().min(0).max(1).nullable().optional(),
});
export type SourceInput = z.infer<typeof sourceInput>;

export const plannedReads = [...pedigreeReads, 'line', 'line_founder'] as const satisfies readonly KindName[];

/** The stock's kinship facts, and who belongs to each line. */
export type PlannedFacts = { pedigree: GatheredPedigree; lines: ReadonlyMap<string, readonly string[]> };

export async function gatherPlanned(facts: Facts): Promise<PlannedFacts> {
  const queens = (await facts.find('queen')).filter(({ line }) => line !== null);
  const members = groupBy(queens, ({ line }) => line as string);
  return {
    pedigree: await gatherPedigree(facts),
    lines: new Map([...members].map(([line, of]) => [line, of.map(({ id }) => id)])),
  };
}

/** Shares that add up to 1: a missing share takes an equal part of what the others leave. */
function sharesOf(sources: readonly SourceInput[]): number[] {
  const said = sources.reduce((sum, { share }) => sum + (share ?? 0), 0);
  const open = sources.filter(({ share }) => share == null).length;
  return sources.map(({ share }) => share ?? Math.max(0, 1 - said) / Math.max(1, open));
}

/** What a drone side gives, as sources of `domain/pedigree`: a line gives drones of all its members alike. */
export function sourcesOf(
  sources: readonly SourceInput[],
  drones: number,
  { lines, pedigree }: PlannedFacts,
): { sources: SourceFact[]; assumptions: Assumption[] } {
  const known = new Set(pedigree.facts.queens.map(({ id }) => id));
  const shares = sharesOf(sources);
  const assumptions: Assumption[] = [];
  const facts = sources.flatMap((source, i): SourceFact[] => {
    const share = shares[i] ?? 0;
    const members = [source.queen, source.sister_group].filter((id): id is NonNullable<typeof id> => id != null);
    const ofLine = source.line == null ? [] : (lines.get(source.line) ?? []);
    const mothers = [...members, ...ofLine].filter((id) => known.has(id));
    if (source.line != null && mothers.length > 0)
      assumptions.push({ code: 'line-stands-in', pool: 'line', mothers: mothers.length });
    if (mothers.length === 0) return [{ open: true, share, drones: drones * share }];
    return mothers.map((queen) => ({
      queen,
      share: share / mothers.length,
      drones: Math.max(1, (drones * share) / mothers.length),
    }));
  });
  return { sources: facts.filter(({ share }) => share > 0), assumptions };
}

/** The kinship of the stock; `null` when descent loops or a record is broken (the standing rules keep that from happening). */
export const layStock = ({ pedigree }: PlannedFacts): Pedigree | null => pedigree.lay().pedigree;

export const hasQueen = (pedigree: Pedigree, id: string): boolean => pedigree.stock.names.queenIndex(id) !== NONE;

/** A virgin still to be raised from a dam descends from the pool the dam carries; where nothing is written, from an open one. */
function openMatedDams(pedigree: Pedigree, dams: readonly string[]): Assumption[] {
  const { columns, names } = pedigree.stock;
  return dams.flatMap((dam): Assumption[] => {
    const at = names.queenIndex(dam);
    if (at === NONE || columns.carries[at] !== NONE) return [];
    return [{ code: 'open-mated', queen: names.queenName(at), drones: OPEN_MATING_DRONES }];
  });
}

const same = (a: Assumption) => JSON.stringify(a);

/** What numbers about a cross of these dams with these drone mothers rest on, each said once. */
export function restsOn(
  pedigree: Pedigree,
  { dams, mothers, facts }: { dams: readonly string[]; mothers: readonly string[]; facts: PedigreeFacts },
): Assumption[] {
  const behind = assumptionsBehind([...dams, ...mothers], indexPedigree(facts), assumptionsOf(pedigree));
  return [...new Map([...behind, ...openMatedDams(pedigree, dams)].map((each) => [same(each), each])).values()];
}

/** The queens a list of sources names. */
export const mothersIn = (sources: readonly SourceFact[]): string[] =>
  sources.flatMap((source) => ('queen' in source ? [source.queen] : []));
