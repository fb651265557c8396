/** What a breeder chooses before worth is worked out, and the input it makes of the records of a stock. */

import type { PedigreeFacts } from '../pedigree/facts.ts';
import { onScale, ruleOf, unitsAt } from '../scoring/trait.ts';
import type { ReliabilityKind } from './breeding-values.ts';
import type { EvaluationInput } from './evaluation-input.ts';
import { canBe, modelOfTraits, publishedFor, publishedSets, spreadWithin, type TraitVariances } from './published.ts';
import { type PairsCannotBe, pairsCannotBe, type TraitPair } from './published-pairs.ts';

/** One queen and test year with a value of each trait, in the trait's own unit. */
export type WorthRecord = {
  /** `queen year`, opaque. */
  id: string;
  queen: string;
  year: number;
  yard: { id: string; name: string };
  traits: Readonly<Record<string, number>>;
  /** Who took most of its readings; left out where nobody is named. */
  tester?: string;
  /** Whether her queen was inseminated. */
  isInseminated?: boolean;
};

/** What a stock has to work worth out from. */
export type WorthFacts = {
  pedigree: PedigreeFacts;
  years: Readonly<Record<string, number>>;
  records: readonly WorthRecord[];
  /** Line of founders by queen id. */
  lines: Readonly<Record<string, string>>;
};

/** Choices for one trait: its worth a unit, and the variances taken as true. */
export type TraitChoice = TraitVariances & {
  /** Worth of one unit of the trait (kg, a step, one of 100 cells …); negative where less is better. */
  weight: number;
  /** Which published set the heritabilities come from; `own` after a change, `estimated` from these records. */
  from: string;
};

/** What two traits share, and where the numbers come from: a published set, `own`, or `estimated`. */
export type PairChoice = TraitPair & { from: string };

/** Everything a breeder chooses for one evaluation. */
export type WorthChoices = {
  traits: readonly TraitChoice[];
  /** Pairs of traits that share something; none: every trait by itself. */
  pairs?: readonly PairChoice[];
  /** Birth year whose queens are counted as 0; null = the founders. */
  reference: number | null;
  /** Yard-years taken as drawn from one spread, for small groups. */
  random: boolean;
  /** Founders of a line counted as one genetic group. */
  lines: boolean;
  /** What each tester gives more or less than the others is taken out. */
  tester?: boolean;
  /** What colonies of inseminated queens do more or less than those of others is taken out. */
  method?: boolean;
  /** Drones of open matings counted as one genetic group. */
  open?: boolean;
  /** How reliabilities are worked out; left out: exact up to 30,000 queens, approximate beyond. */
  reliability?: Exclude<ReliabilityKind, 'none'>;
};

/**
 * How a yard-year is called in an evaluation: name of the yard and test year. Colonies of one name are compared with one another, also where two yards are
 * called the same.
 * @example levelOf({ yard: { id: 'y', name: 'Mill' }, year: 2027 }) // 'Mill 2027'
 */
export const levelOf = ({ yard, year }: Pick<WorthRecord, 'yard' | 'year'>): string => `${yard.name} ${year}`;

const valuesOf = (records: readonly WorthRecord[], trait: string) =>
  records.flatMap(({ traits }) => (traits[trait] === undefined ? [] : [traits[trait]]));

/**
 * Mean of a trait in its own unit (kg, points, a part 0-1, mites per 100 bees …) over all records that have it; 0 without any.
 * @param trait name of a trait; one nobody recorded gives 0
 * @example meanOf(workedFacts.records, 'mites') // 2; 1 and 3 mites per 100 bees
 */
export function meanOf(records: readonly WorthRecord[], trait: string): number {
  const values = valuesOf(records, trait);
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/**
 * Units of the trait (kg, points, a part 0-1) in one unit of the scale it is evaluated on, at the mean of the records: 1 where the two are the same, the slope
 * of the way back where the trait is evaluated as an angle or a logarithm (delta method, first order; own derivation): 2√(p(1−p)) at a mean part p, kept
 * within 0.01 … 0.99, and 1 + m at a mean count m. Above 0; without records that of a mean of 0.
 * @example unitsOf(workedFacts.records, 'mites') // 3; ln(1 + x) at a mean of 2
 */
export const unitsOf = (records: readonly WorthRecord[], trait: string): number =>
  unitsAt(trait, meanOf(records, trait));

/**
 * Values of a trait by yard-year ({@link levelOf}), on the scale it is evaluated on, yard-years and values in the records' order; yard-years without any are
 * left out, and no records give an empty map.
 * @example groupsOf(workedFacts.records, 'honey').get('1 2025') // [42, 35, 47]
 */
export function groupsOf(records: readonly WorthRecord[], trait: string): Map<string, number[]> {
  const groups = new Map<string, number[]>();
  for (const record of records) {
    const value = record.traits[trait];
    if (value === undefined) continue;
    groups.set(levelOf(record), [...(groups.get(levelOf(record)) ?? []), onScale(trait, value)]);
  }
  return groups;
}

/** Two figures are enough for a weight. */
const short = (value: number) => Number(value.toPrecision(2));

/**
 * What stands in the form for a trait before anybody changes it: the heritabilities and the correlation of the first published set ({@link ./published.ts}
 * names the source), the spread seen inside yard-years on the scale of evaluation ({@link spreadWithin}: a usual one where the colonies are too few), and the
 * weight: 1/spread for one own unit of the trait, rounded to two figures, so that one spread of every trait counts the same (judgement); below 0 where less is
 * better. A trait without records gets the usual spread.
 * @example usualChoice(workedFacts.records, 'honey') // { worker: 0.25, queen: 0.15, correlation: -0.4, spread: 8, weight: 0.13, from: 'start' }
 */
export function usualChoice(records: readonly WorthRecord[], trait: string): TraitChoice {
  const [first] = publishedSets;
  if (first === undefined) throw new Error('no published set');
  const { spread } = spreadWithin(trait, [...groupsOf(records, trait).values()]);
  const ownUnit = spread * unitsOf(records, trait);
  const sign = ruleOf(trait).better === 'less' ? -1 : 1;
  const from = first.name;
  return { trait, ...publishedFor(first, trait), spread, from, weight: sign * short(1 / ownUnit) };
}

/** Mean colonies a yard-year below which yard-years are taken as random unless the breeder says otherwise. */
const SMALL = 5;

/**
 * Choices to begin with: every trait that at least a third of the records (and two) have, in the order given; yard-years taken as random where they hold fewer
 * than five records on average (both judgement); no reference year, no genetic groups, nothing shared between traits. Without records no trait is chosen.
 * @example usualChoices(workedFacts.records, ['honey', 'swarming']) // { random: true, reference: null, lines: false }
 */
export function usualChoices(records: readonly WorthRecord[], traits: readonly string[]): WorthChoices {
  const often = traits.filter((trait) => valuesOf(records, trait).length >= Math.max(2, records.length / 3));
  const groups = new Set(records.map(levelOf)).size;
  return {
    traits: often.map((trait) => usualChoice(records, trait)),
    reference: null,
    random: records.length / Math.max(1, groups) < SMALL,
    lines: false,
  };
}

/**
 * Names of the chosen traits whose numbers cannot be ({@link canBe}): parts outside 0 … 1 (both ends too), a correlation beyond ±0.99, a spread not above 0,
 * nothing left for the residual. Empty when all can; else nothing is worked out.
 * @example const choices = usualChoices(workedFacts.records, ['honey']);
 * impossibleOf({ ...choices, traits: [{ ...choices.traits[0], worker: 1.2 }] }) // ['honey']
 */
export const impossibleOf = ({ traits }: WorthChoices): string[] =>
  traits.filter((choice) => !canBe(choice)).map(({ trait }) => trait);

/**
 * Those pairs (correlations −1 to 1) of which both traits are chosen, in their order; the others wait in the choices without effect. Empty without pairs.
 * @example pairsOf({ ...usualChoices(workedFacts.records, ['honey']), pairs: [{ ...nothingShared, first: 'honey', second: 'mites', from: 'own' }] }) // []
 */
export const pairsOf = ({ traits, pairs = [] }: WorthChoices): PairChoice[] =>
  pairs.filter(({ first, second }) => [first, second].every((name) => traits.some(({ trait }) => trait === name)));

/**
 * Correlations between the chosen traits that cannot be together, with how much weaker they could be ({@link pairsCannotBe}: G and R must be positive
 * definite); `null` when they can, or when a trait by itself cannot ({@link impossibleOf} names it).
 * @example const choices = usualChoices(workedFacts.records, workedFacts.traits);
 * impossibleTogether({ ...choices, pairs: [{ ...nothingShared, first: 'honey', second: 'mites', worker: 1, from: 'own' }] }).alone.length // 1
 */
export const impossibleTogether = (choices: WorthChoices): PairsCannotBe | null =>
  impossibleOf(choices).length > 0 ? null : pairsCannotBe(choices.traits, pairsOf(choices));

/** The variance among random yard-years, in parts of the variance among colonies inside one (common in test yards: as large again). */
const YARD_YEARS = 1;

/** The level of an effect where nothing is written. */
const NOT_SAID = '–';
const testerOf = ({ tester }: WorthRecord) => tester ?? NOT_SAID;
const methodOf = ({ isInseminated }: WorthRecord) => (isInseminated ? 'inseminated' : 'not inseminated');

/** Effects beside yard and year that may be taken out, each with its level of a record. */
const furtherEffects = { tester: testerOf, method: methodOf } as const;
/** One of the effects beside yard and year. */
export type FurtherEffect = keyof typeof furtherEffects;

/**
 * Whether an effect can be told from yard and year at all: some yard-year ({@link levelOf}) holds two of its levels. Where each yard-year had one tester, what
 * the tester gives more or less is the yard-year's (both columns of the design are then the same). A tester nobody named counts as one of his own; a queen not
 * said to be inseminated as not inseminated. False without records.
 * @example canBeToldApart(workedFacts.records, 'tester') // true; Ada and Ben both scored in yard 1
 */
export function canBeToldApart(records: readonly WorthRecord[], effect: FurtherEffect): boolean {
  const seen = new Map<string, string>();
  return records.some((record) => {
    const level = furtherEffects[effect](record);
    const known = seen.get(levelOf(record));
    seen.set(levelOf(record), known ?? level);
    return known !== undefined && known !== level;
  });
}

/** The group of drones of open matings. */
const OPEN_DRONES = 'open drones';

/** Genetic groups as chosen: founders by line, drones of open matings; none when nobody belongs to one. */
function chosenGroups({ pedigree, lines }: WorthFacts, choices: WorthChoices): Pick<EvaluationInput, 'groups'> {
  const named = (of: (queen: PedigreeFacts['queens'][number]) => string | undefined) =>
    Object.fromEntries(
      pedigree.queens.flatMap((queen) => {
        const name = of(queen);
        return name ? [[queen.id, name]] : [];
      }),
    );
  const founders = choices.lines ? named(({ id, dam }) => (dam == null ? lines[id] : undefined)) : {};
  const open = choices.open ? named(() => OPEN_DRONES) : {};
  if (Object.keys(founders).length + Object.keys(open).length === 0) return {};
  return { groups: { founders, ...(choices.open ? { open } : {}), variance: 1 } };
}

/**
 * The input of an evaluation of the chosen traits: values on the scale of evaluation (`null` = not recorded; records without any of the traits, or of a queen
 * not in the pedigree, are left out), G and R from heritabilities, spreads and pairs ({@link ./published.ts}), yard × year fixed, or random with a variance as
 * large as that inside yard-years (judgement), weights turned into worth of a unit of the evaluation's scale. The same facts and choices give the same input
 * in the same order. Numbers that cannot be ({@link impossibleOf}) are passed on; the evaluation then refuses them.
 * @example inputOf(workedFacts, usualChoices(workedFacts.records, ['honey', 'mites'])).records[0] // { queen: 'A', values: [42, Math.log(2)] }
 */
export function inputOf(facts: WorthFacts, choices: WorthChoices): EvaluationInput {
  const { pedigree, years, records } = facts;
  const { traits, random, reference } = choices;
  const effect = ['yard', 'year'];
  const covariance = traits.map(({ spread }, s) => traits.map((_, u) => (s === u ? YARD_YEARS * spread ** 2 : 0)));
  const ids = new Set(pedigree.queens.map(({ id }) => id));
  const further = (['tester', 'method'] as const).filter((name) => choices[name]);
  const fixed = further.map((name) => [name]);
  return {
    pedigree: {
      queens: pedigree.queens,
      pools: pedigree.pools,
      ...(pedigree.assumptions && { assumptions: pedigree.assumptions }),
    },
    years,
    model: modelOfTraits(traits, {
      pairs: pairsOf(choices),
      ...(random ? { fixed, random: { effect, covariance } } : { fixed: [effect, ...fixed] }),
    }),
    records: records
      .filter(({ queen }) => ids.has(queen))
      .map((record) => ({
        queen: record.queen,
        record: record.id,
        levels: [levelOf(record), ...further.map((name) => furtherEffects[name](record))],
        values: traits.map(({ trait }) => {
          const value = record.traits[trait];
          return value === undefined ? null : onScale(trait, value);
        }),
      }))
      .filter(({ values }) => values.some((value) => value !== null)),
    weights: Object.fromEntries(traits.map(({ trait, weight }) => [trait, weight * unitsOf(records, trait)])),
    ...(reference === null
      ? {}
      : { reference: Object.keys(years).filter((id) => years[id] === reference && ids.has(id)) }),
    ...(choices.reliability === undefined ? {} : { reliability: choices.reliability }),
    ...chosenGroups(facts, choices),
  };
}
