import {
  type BreedingValuesOneByOne,
  breedingValuesOneByOne,
  MOST_FOR_EXACT,
  type ReliabilityKind,
} from '#domain/worth/breeding-values.ts';
import { connectedness } from '#domain/worth/connectedness.ts';
import { sayWarnings } from '#domain/worth/say-warnings.ts';
import type { Command, Table, World } from '../command.ts';
import type { Given } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { worthFlags, worthGiven } from './worth-input.ts';

const KINDS: readonly string[] = ['exact', 'approximate', 'none'] satisfies ReliabilityKind[];

function kindGiven(given: Given): ReliabilityKind | undefined {
  const kind = given.optionalText('reliability');
  if (kind === undefined || KINDS.includes(kind)) return kind as ReliabilityKind | undefined;
  const expected = KINDS.join(', ');
  throw new WrongInput([
    { column: '--reliability', found: `"${kind}"`, expected, remedy: 'see combwright breeding-values --help' },
  ]);
}

/** More rows than a terminal, or the memory of the program, can hold laid out in columns. */
const MOST_ROWS = 2_000_000;

function checkRows(rows: number): void {
  if (rows <= MOST_ROWS) return;
  const expected = `at most ${MOST_ROWS} rows in a table`;
  throw new WrongInput([{ found: `an answer of ${rows} rows`, expected, remedy: 'ask for it with --json' }]);
}

function tablesOf(answer: BreedingValuesOneByOne): Table[] {
  return [
    {
      title: `breeding values; reliability (${answer.reliability}) of the worth as mother of queens`,
      columns: [
        'queen',
        'trait',
        'as mother of queens',
        'as drone mother',
        'as colony',
        'reliability',
        'worker effect',
        'queen effect',
      ],
      rows: Array.from(answer.queens, (one) => [
        one.queen,
        one.trait,
        one.asMotherOfQueens,
        one.asDroneMother,
        one.asColony,
        one.reliability,
        one.workerEffect,
        one.queenEffect,
      ]),
    },
    {
      title: 'fixed effects',
      columns: ['effect', 'level', 'trait', 'value'],
      rows: answer.fixed.map((one) => [one.factor, one.level, one.trait, one.value]),
    },
  ];
}

/** Iterations between two lines of progress; smaller stocks are done before the first. */
const EVERY = 25;

/** Tells the terminal how far the solving of a large stock is. */
const toldOfSolving =
  (world: World) =>
  (iteration: number, residual: number): undefined => {
    if (iteration % EVERY === 0)
      world.tell(`iteration ${iteration}: residual ${residual.toExponential(1)} (done at 1e-10)`);
  };

/** Breeding values of every queen (contracts.md, command 3). */
export const breedingValuesCommand: Command = {
  name: 'breeding-values',
  summary:
    'worker and queen effects of every queen, and what she is worth as mother of queens, as drone mother and as colony',
  positionals: [],
  flags: {
    ...worthFlags,
    reliability: {
      takes: 'text',
      what: `exact, approximate or none; exact up to ${MOST_FOR_EXACT} queens when left out`,
    },
  },
  run: async (given, world) => {
    const reliability = kindGiven(given);
    const { pedigree, records, model, groups, doubts } = await worthGiven(given, world);
    const options = { ...(reliability && { reliability }), ...(groups && { groups }), progress: toldOfSolving(world) };
    const answer = breedingValuesOneByOne(pedigree, records, model, options);
    const joined = connectedness(pedigree, records);
    const texts = [...doubts, ...sayWarnings({ values: answer, joined, records, model })];
    return {
      json: { ...answer, warnings: texts },
      get tables() {
        checkRows(pedigree.stock.columns.queens * model.traits.length);
        return tablesOf(answer);
      },
      notes: texts,
    };
  },
};
