import {
  type BreedingValues,
  breedingValues,
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

function tablesOf(answer: BreedingValues): Table[] {
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
      rows: answer.queens.map((one) => [
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
    const answer = breedingValues(pedigree, records, model, options);
    const joined = connectedness(pedigree, records);
    const texts = [...doubts, ...sayWarnings({ values: answer, joined, records, model })];
    return {
      json: { ...answer, warnings: texts },
      get tables() {
        return tablesOf(answer);
      },
      notes: texts,
    };
  },
};
