import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { gatherNames, nameReads } from '#gather/names.ts';
import { combDays, graftDays, type Stretch } from '#gather/raised.ts';
import { gatherRaisedProfiles, raisedProfileReads } from '#gather/raised-profiles.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { Raised } from './lanes.ts';

export const raisedReads = [
  ...raisedProfileReads,
  ...nameReads,
  'drone_comb',
  'graft',
  'graft_range',
  'graft_cell',
  'colony',
] as const satisfies readonly KindName[];

/** A drone comb with its days: seen, or counted on from what was seen. */
export type CombLine = {
  id: string;
  code: string;
  mother: string | null;
  who: string;
  /** The colony it hangs in now: its holder once it was moved there. */
  where: string | null;
  markedHow: string | null;
  cross: string | null;
  inOn: Day | null;
  laid: Stretch | null;
  emerged: Stretch | null;
};

/** Cells of a bar as far as they were counted; `null` where nobody counted. */
export type CellCount = { grafted: number; accepted: number | null; emerged: number; lost: number };

/** A bar with its dams and days. */
export type BarLine = {
  id: string;
  code: string;
  day: Day;
  cross: string | null;
  ranges: { from: number; to: number; dam: string; damId: string }[];
  cells: CellCount;
  emerged: Stretch;
  /** The first day a queen may be out. */
  earliest: Day;
};

export type GatheredRaised = { combs: CombLine[]; bars: BarLine[]; called: (id: string) => string };

function countCells(cells: readonly Row<'graft_cell'>[], larvae: number | null): CellCount {
  const isCounted = cells.some(({ accepted }) => accepted !== null);
  return {
    grafted: larvae ?? cells.length,
    accepted: isCounted ? cells.filter(({ accepted }) => accepted === 1).length : null,
    emerged: cells.filter(({ emerged_on }) => emerged_on !== null).length,
    lost: cells.filter(({ lost }) => lost === 1).length,
  };
}

/** Every drone comb and bar of the book, each by the profile of its cross; those of no cross by the usual one, or by `elsewhere` when it is given. */
export async function gatherRaised(facts: Facts, elsewhere?: BiologyProfile): Promise<GatheredRaised> {
  const { ofComb, ofGraft } = await gatherRaisedProfiles(facts, elsewhere);
  const called = await gatherNames(facts);
  const colonies = new Map((await facts.find('colony')).map(({ id, code }) => [id, code]));
  const ranges = groupBy(await facts.find('graft_range'), ({ graft }) => graft);
  const cells = groupBy(await facts.find('graft_cell'), ({ graft }) => graft);
  const combs = (await facts.find('drone_comb')).map((comb): CombLine => {
    const days = combDays(comb, ofComb(comb));
    const at = comb.holder ?? comb.colony;
    return {
      id: comb.id,
      code: comb.code,
      mother: comb.mother,
      who: comb.mother === null ? '' : called(comb.mother),
      where: at === null ? null : (colonies.get(at) ?? null),
      markedHow: comb.marked_how,
      cross: comb.cross,
      inOn: comb.in_on,
      laid: days?.laid ?? null,
      emerged: days?.emerged ?? null,
    };
  });
  const bars = (await facts.find('graft')).map((graft): BarLine => {
    const own = cells.get(graft.id) ?? [];
    return {
      id: graft.id,
      code: graft.code,
      day: graft.day,
      cross: graft.cross,
      ranges: (ranges.get(graft.id) ?? []).map((range) => ({
        from: range.position_from,
        to: range.position_to,
        dam: called(range.dam),
        damId: range.dam,
      })),
      cells: countCells(own, graft.larvae),
      ...graftDays(graft, own, ofGraft(graft)),
    };
  });
  return { combs, bars, called };
}

/** A comb as its lane is drawn; nothing when no day of it is known. */
export function raisedComb({ id, code, who, mother, laid, emerged }: CombLine): (Raised & { mother: string | null })[] {
  return laid === null || emerged === null ? [] : [{ id, code, who, mother, begun: laid, emerged, earliest: null }];
}

/** A bar as its lane is drawn. */
export const raisedBar = ({ id, code, day, ranges, emerged, earliest }: BarLine): Raised => ({
  id,
  code,
  who: [...new Set(ranges.map(({ dam }) => dam))].join(', '),
  begun: { from: day, to: day },
  emerged,
  earliest: emerged.seen ? null : earliest,
});
