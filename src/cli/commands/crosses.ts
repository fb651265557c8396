import { allocation } from '#domain/crosses/allocation.ts';
import { contributions } from '#domain/crosses/contributions.ts';
import { readCandidates } from '#domain/crosses/files/read-candidates.ts';
import type { Command, Table } from '../command.ts';
import type { Given } from '../given.ts';
import { type InputProblem, WrongInput } from '../wrong-input.ts';
import { pedigreeFlags, pedigreeFrom, readNamed } from './pedigree-input.ts';

type Answer = ReturnType<typeof answerOf>;

function answerOf(found: Parameters<typeof allocation>[1], given: ReturnType<typeof allocation>) {
  return {
    merit: found.merit,
    groupRelationship: found.groupRelationship,
    dams: given.dams,
    droneMothers: found.droneMothers,
    allocation: given.allocation,
  };
}

const tablesOf = (answer: Answer): Table[] => [
  {
    title: 'dams',
    columns: ['queen', 'share', 'queens'],
    rows: answer.dams.map((one) => [one.queen, one.share, one.queens]),
  },
  {
    title: 'drone mothers',
    columns: ['queen', 'share'],
    rows: answer.droneMothers.map((one) => [one.queen, one.share]),
  },
  {
    title: 'who gets whose semen',
    columns: ['daughters of', 'drones of', 'queens', 'inbreeding', 'expected viability'],
    rows: answer.allocation.map((one) => [
      one.dam,
      one.droneMothers.map((mother) => mother.queen).join(';'),
      one.queens,
      one.inbreeding,
      one.expectedViability,
    ]),
  },
];

const remedy = 'see combwright crosses --help';

/** `--queens` stands for the file and for the number of queens wanted: the one that is a whole number is the number. */
function queensGiven(given: Given): { file: string; wanted: number } {
  const texts = given.texts('queens');
  const file = texts.find((text) => !/^\d+$/.test(text));
  const wanted = Number(texts.find((text) => /^\d+$/.test(text)) ?? 0);
  if (file !== undefined && wanted >= 1 && texts.length === 2) return { file, wanted };
  const found = texts.length === 0 ? 'nothing' : texts.map((text) => `"${text}"`).join(' and ');
  const expected = 'the queens file once, and once how many queens are wanted (1 or more)';
  throw new WrongInput([{ column: '--queens', found, expected, remedy: 'write --queens QUEENS.csv --queens 12' }]);
}

function limitGiven(given: Given): number {
  const limit = given.number('limit-coancestry');
  if (limit > 0) return limit;
  throw new WrongInput([{ column: '--limit-coancestry', found: String(limit), expected: 'a number above 0', remedy }]);
}

/** Contributions of dams and drone mothers, and who gets whose semen (contracts.md, command 5). */
export const crosses: Command = {
  name: 'crosses',
  summary: 'how much each candidate should contribute, and which virgins get whose semen',
  positionals: [],
  flags: {
    ...pedigreeFlags,
    queens: {
      takes: 'text',
      what: 'twice: the queens file, and how many queens are to be inseminated',
      needed: true,
      many: true,
    },
    candidates: { takes: 'file', what: 'CANDIDATES.csv: queen,merit,as_dam_max,as_drone_mother_max', needed: true },
    'limit-coancestry': {
      takes: 'number',
      what: 'highest coancestry of the group that follows, such as 0.05',
      needed: true,
    },
    drones: { takes: 'number', what: 'effective drones in an insemination', initial: '10' },
    alleles: { takes: 'whole', what: 'equally common sex alleles founders draw from', initial: '12' },
    seed: { takes: 'whole', what: 'seed of the random numbers', initial: '1' },
  },
  run: async (given, world) => {
    const { file, wanted } = queensGiven(given);
    const limit = limitGiven(given);
    const pedigree = await pedigreeFrom(world, file, given.optionalText('semen'));
    const read = readCandidates(await readNamed(world, given.text('candidates')), pedigree.stock, wanted);
    if (read.candidates === null) throw new WrongInput(read.problems);
    const found = contributions(pedigree, read.candidates, 2 * limit);
    if (!('contributions' in found)) throw new WrongInput([notPossible(found, limit, given.text('candidates'))]);
    const most = new Map(read.candidates.map((one) => [one.queen, one]));
    const allotted = allocation(pedigree, found.contributions, {
      queens: wanted,
      drones: given.number('drones'),
      mostOfDam: (queen) => most.get(queen)?.mostAsDam ?? wanted,
      mostOfDroneMother: (queen) => most.get(queen)?.mostAsDroneMother ?? wanted,
      brood: { alleles: given.number('alleles'), seed: given.number('seed') },
    });
    const answer = answerOf(found.contributions, allotted);
    return { json: answer, tables: tablesOf(answer), notes: [`group coancestry ${answer.groupRelationship / 2}`] };
  },
};

function notPossible(found: { least: number } | { missing: string }, limit: number, file: string): InputProblem {
  if ('missing' in found) {
    const expected = `${found.missing} whose limits add up to a whole cohort`;
    return { file, found: `too few ${found.missing}`, expected, remedy: 'add candidates or raise their limits' };
  }
  const least = Number((found.least / 2).toPrecision(6));
  const expected = `a limit of at least ${least}, the lowest coancestry these candidates allow`;
  return {
    column: '--limit-coancestry',
    found: String(limit),
    expected,
    remedy: 'raise the limit or add less related candidates',
  };
}
