/** What a page has to know of a stock before worth is worked out, without the stock itself: a few numbers a trait, however many queens. */
import {
  canBeToldApart,
  type FurtherEffect,
  type TraitChoice,
  usualChoice,
  usualChoices,
  type WorthChoices,
  type WorthFacts,
} from './choices.ts';

/** A trait with records: how many, and what is chosen of it before anybody changes it. */
export type TraitTold = { trait: string; records: number; usual: TraitChoice };

/** A stock told in short. */
export type StockTold = {
  /** Season records, one a queen and year. */
  records: number;
  /** The book's own traits first. */
  traits: TraitTold[];
  /** What is chosen before anybody changes it. */
  usual: WorthChoices;
  /** Years of birth of recorded queens, the oldest first, with all queens born in each. */
  years: { year: number; queens: number }[];
  /** Whether an effect can be told from yard and year ({@link canBeToldApart}). */
  toldApart: Record<FurtherEffect, boolean>;
};

/** Facts of a stock with its traits in the order they are shown. */
export type StockFacts = WorthFacts & { traits: readonly string[] };

/** Years recorded queens were born in, with how many queens of the stock were. */
function birthYears({ records, years }: WorthFacts): StockTold['years'] {
  const born = new Map<number, number>();
  for (const year of Object.values(years)) born.set(year, (born.get(year) ?? 0) + 1);
  const recorded = new Set(records.flatMap(({ queen }) => years[queen] ?? []));
  return [...recorded].sort((a, b) => a - b).map((year) => ({ year, queens: born.get(year) ?? 0 }));
}

/**
 * A stock told in short; without records: no years, nothing chosen. `usual` of a trait that too few records have is told all the same. Weights and spreads as
 * in {@link usualChoice}. Time grows with records × traits.
 * @example toldOfStock(workedFacts).years // [{ year: 2023, queens: 2 }, { year: 2024, queens: 4 }]; C of 2022 has no record
 */
export function toldOfStock(facts: StockFacts): StockTold {
  const { records, traits } = facts;
  const usual = usualChoices(records, traits);
  return {
    records: records.length,
    traits: traits.map((trait) => ({
      trait,
      records: records.filter((record) => record.traits[trait] !== undefined).length,
      usual: usual.traits.find((one) => one.trait === trait) ?? usualChoice(records, trait),
    })),
    usual,
    years: birthYears(facts),
    toldApart: { tester: canBeToldApart(records, 'tester'), method: canBeToldApart(records, 'method') },
  };
}
