import { type BroodOutlook, broodOutlook } from '#domain/brood/brood.ts';
import type { Evidence } from '#domain/brood/evidence.ts';
import { evidenceProblem } from '#domain/brood/files/evidence-problem.ts';
import { readAlleles, readCounts } from '#domain/brood/files/read-evidence.ts';
import type { SourceFact } from '#domain/pedigree/facts.ts';
import { readMating } from '#domain/pedigree/files/mating-text.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import type { Command, Table, World } from '../command.ts';
import type { Given } from '../given.ts';
import { type InputProblem, WrongInput } from '../wrong-input.ts';
import { pedigreeFlags, pedigreeGiven, readNamed } from './pedigree-input.ts';

type Cross = { queen: string; mated_to: string; sources: SourceFact[] };

const wrong = (column: string, found: string, expected: string): InputProblem => ({
  column,
  found,
  expected,
  remedy: 'write crosses as --cross "Q1=M:0.5;N:0.5"',
});

/** `Q1=M:0.5;N:0.5`: the queen is the longest text before a `=` that is a code. */
function splitCross(text: string, isCode: (code: string) => boolean): [string, string] | null {
  for (let at = text.lastIndexOf('='); at >= 0; at = text.lastIndexOf('=', at - 1)) {
    const queen = text.slice(0, at).trim();
    if (isCode(queen)) return [queen, text.slice(at + 1).trim()];
    if (at === 0) break;
  }
  return null;
}

function readCross(text: string, pedigree: Pedigree, drones: number): Cross | InputProblem {
  const isCode = (code: string) => pedigree.stock.names.queenIndex(code) >= 0;
  const split = splitCross(text, isCode);
  if (split === null) return wrong('--cross', `"${text}"`, 'a queen of the pedigree, = and her drone mothers');
  const [queen, mated_to] = split;
  const mating = readMating(mated_to, { isCode, decimalComma: false });
  if ('found' in mating)
    return wrong('--cross', `"${mating.found}" in "${text}"`, 'drone mothers with shares that add up to 1');
  if (mating.oneOf) return wrong('--cross', `"${text}"`, 'a mixture: a planned cross is not one or the other');
  const unknown = mating.parts.find((part) => part.code !== 'open' && !isCode(part.code));
  if (unknown) return wrong('--cross', `"${unknown.code}" in "${text}"`, 'drone mothers of the pedigree, or open');
  const sources = mating.parts.map(({ code, share }): SourceFact => {
    const part = { share, drones: drones * share };
    return code === 'open' ? { open: true, ...part } : { queen: code, ...part };
  });
  return { queen, mated_to, sources };
}

/** Numbers of a call that must lie within bounds. */
function settingsGiven(given: Given) {
  const problems: InputProblem[] = [];
  const within = (flag: string, least: number, most: number): number => {
    const value = given.number(flag);
    if (!(value >= least && value <= most)) {
      problems.push({
        column: `--${flag}`,
        found: String(value),
        expected: `a number from ${least} to ${most}`,
        remedy: 'see combwright brood --help',
      });
    }
    return value;
  };
  const settings = {
    drones: within('drones', 1, 1e9),
    alleles: within('alleles', 2, 60_000),
    draws: within('draws', 1, 10_000_000),
    seed: within('seed', 0, Number.MAX_SAFE_INTEGER),
    limit: within('limit', 0, 1),
  };
  if (problems.length > 0) throw new WrongInput(problems);
  return settings;
}

type GivenEvidence = { evidence: Evidence; files: Parameters<typeof evidenceProblem>[1] };

async function evidenceGiven(given: Given, world: World): Promise<GivenEvidence> {
  const typed = given.has('alleles-known') ? await readNamed(world, given.text('alleles-known')) : undefined;
  const counted = given.has('brood-counts') ? await readNamed(world, given.text('brood-counts')) : undefined;
  const alleles = typed ? readAlleles(typed) : { alleles: [], rows: [] };
  const counts = counted ? readCounts(counted) : { counts: [], rows: [] };
  if ('problems' in alleles || 'problems' in counts) {
    throw new WrongInput([
      ...('problems' in alleles ? alleles.problems : []),
      ...('problems' in counts ? counts.problems : []),
    ]);
  }
  return {
    evidence: { alleles: alleles.alleles, counts: counts.counts },
    files: {
      ...(typed ? { alleles: { name: typed.name, rows: alleles.rows } } : {}),
      ...(counted ? { counts: { name: counted.name, rows: counts.rows } } : {}),
    },
  };
}

type Row = { queen: string; mated_to: string } & Omit<BroodOutlook, 'effectiveDraws'>;

const tableOf = (rows: readonly Row[]): Table => ({
  title: 'brood of planned crosses',
  columns: ['queen', 'mated to', 'inbreeding', 'expected viability', 'sd', 'chance below limit', 'draws'],
  rows: rows.map((row) => [
    row.queen,
    row.mated_to,
    row.inbreeding,
    row.expectedViability,
    row.sdViability,
    row.probabilityBelowLimit,
    row.draws,
  ]),
});

/** How much brood of planned crosses will be shot (contracts.md, command 2). */
export const brood: Command = {
  name: 'brood',
  summary: 'how much brood of planned crosses is expected to live, by sex alleles dropped through the pedigree',
  positionals: [],
  flags: {
    ...pedigreeFlags,
    cross: {
      takes: 'text',
      what: 'a queen and a new pool, "Q1=M:0.5;N:0.5"; may be given several times',
      needed: true,
      many: true,
    },
    drones: { takes: 'number', what: 'effective drones of each cross', initial: '10' },
    alleles: { takes: 'whole', what: 'equally common sex alleles founders draw from', initial: '12' },
    draws: { takes: 'whole', what: 'draws through the pedigree', initial: '10000' },
    seed: { takes: 'whole', what: 'seed of the random numbers', initial: '1' },
    limit: { takes: 'number', what: 'viability below which brood counts as poor, 0-1', initial: '0.85' },
    'alleles-known': { takes: 'file', what: 'typed queens: queen,allele1,allele2' },
    'brood-counts': { takes: 'file', what: 'counted brood: queen,viable,cells' },
  },
  run: async (given, world) => {
    const { drones, ...settings } = settingsGiven(given);
    const pedigree = await pedigreeGiven(given, world);
    const read = given.texts('cross').map((text) => readCross(text, pedigree, drones));
    const problems = read.filter((one): one is InputProblem => 'found' in one);
    if (problems.length > 0) throw new WrongInput(problems);
    const crosses = read.filter((one): one is Cross => 'sources' in one);
    const { evidence, files } = await evidenceGiven(given, world);
    const answer = broodOutlook(pedigree, crosses, { ...settings, evidence });
    if (answer.crosses === null)
      throw new WrongInput(answer.problems.map((problem) => evidenceProblem(problem, files)));
    const rows = answer.crosses.map(({ effectiveDraws: _, ...outlook }, k) => ({
      queen: crosses[k]?.queen ?? '',
      mated_to: crosses[k]?.mated_to ?? '',
      ...outlook,
    }));
    return {
      json: { crosses: rows },
      tables: [tableOf(rows)],
      notes: ['No loss of brood for other reasons is included.'],
    };
  },
};
