import { type ClosedStock, SCHEMES, type Scheme } from '#domain/lookahead/closed-stock.ts';
import { type LookAhead, lookAhead } from '#domain/lookahead/look-ahead.ts';
import type { Command, Table } from '../command.ts';
import type { Given } from '../given.ts';
import { type InputProblem, WrongInput } from '../wrong-input.ts';

const remedy = 'see combwright lookahead --help';

function planGiven(given: Given): { plan: ClosedStock; replicates: number; limit: number; seed: number } {
  const problems: InputProblem[] = [];
  const within = (flag: string, least: number, most: number): number => {
    const value = given.number(flag);
    if (!(value >= least && value <= most)) {
      problems.push({
        column: `--${flag}`,
        found: String(value),
        expected: `a number from ${least} to ${most}`,
        remedy,
      });
    }
    return value;
  };
  const scheme = given.text('scheme');
  if (!SCHEMES.some((one) => one === scheme)) {
    problems.push({ column: '--scheme', found: `"${scheme}"`, expected: SCHEMES.join(', '), remedy });
  }
  const plan = {
    breeders: within('breeders', 2, 2000),
    alleles: within('alleles', 2, 60_000),
    drones: within('drones', 1, 1000),
    scheme: scheme as Scheme,
    cohorts: within('cohorts', 0, 500),
  };
  const rest = {
    replicates: within('replicates', 1, 1_000_000),
    limit: within('limit', 0, 1),
    seed: within('seed', 0, Number.MAX_SAFE_INTEGER),
  };
  if (problems.length > 0) throw new WrongInput(problems);
  return { plan, ...rest };
}

const tableOf = ({ cohorts }: LookAhead): Table => ({
  title: 'a closed stock looked at ahead',
  columns: [
    'cohort',
    'mean viability',
    'sd of mean',
    'alleles left',
    'coancestry',
    'colonies below limit',
    'mean above limit',
  ],
  rows: cohorts.map((one) => [
    one.cohort,
    one.meanViability,
    one.sdOfMean,
    one.allelesLeft,
    one.coancestry,
    one.shareOfColoniesBelowLimit,
    one.probabilityMeanAboveLimit,
  ]),
});

/** A closed stock over many cohorts (contracts.md, command 6). */
export const lookahead: Command = {
  name: 'lookahead',
  summary: 'a closed stock over many cohorts: brood, sex alleles left, coancestry, effective size',
  positionals: [],
  flags: {
    breeders: { takes: 'whole', what: 'breeder queens in a cohort', initial: '35' },
    alleles: { takes: 'whole', what: 'equally common sex alleles among the founders', initial: '20' },
    drones: { takes: 'whole', what: 'drones in one insemination', initial: '10' },
    scheme: { takes: 'text', what: SCHEMES.join(', '), initial: 'random' },
    cohorts: { takes: 'whole', what: 'cohorts after the founders', initial: '20' },
    replicates: { takes: 'whole', what: 'replicates', initial: '500' },
    limit: { takes: 'number', what: 'viability below which brood counts as poor, 0-1', initial: '0.85' },
    seed: { takes: 'whole', what: 'seed of the random numbers', initial: '1' },
  },
  run: async (given) => {
    const { plan, ...options } = planGiven(given);
    const answer = lookAhead(plan, options);
    const size = answer.effectiveSize === null ? 'not known' : answer.effectiveSize.toFixed(1);
    return { json: answer, tables: [tableOf(answer)], notes: [`effective size ${size}`] };
  },
};
