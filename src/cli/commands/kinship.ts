import { sayAssumptionsInShort } from '#domain/pedigree/assumption.ts';
import { type KinshipReport, kinshipReport } from '#domain/pedigree/kinship-report.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { assumptionsOf } from '#domain/pedigree/pedigree.ts';
import type { Command, Table } from '../command.ts';
import { type InputProblem, WrongInput } from '../wrong-input.ts';
import { pedigreeFlags, pedigreeGiven } from './pedigree-input.ts';

/** More pairs than a terminal or a JSON document can hold. */
const MOST_QUEENS_FOR_ALL = 3000;

/** `A,B;C,D` as pairs of queens of the pedigree. Throws WrongInput naming what is no pair, or no queen. */
function readPairs(text: string, pedigree: Pedigree): [string, string][] {
  const problems: InputProblem[] = [];
  const wrong = (found: string, expected: string) =>
    problems.push({ column: '--pairs', found, expected, remedy: 'correct the pairs' });
  const pairs = text.split(';').filter((piece) => piece.trim() !== '');
  const read = pairs.map((piece): [string, string] => {
    const [a = '', b = '', ...more] = piece.split(',').map((code) => code.trim());
    if (b === '' || more.length > 0) wrong(`"${piece.trim()}"`, 'two codes with a comma between, such as "A,B;C,D"');
    else {
      for (const code of [a, b]) {
        if (pedigree.stock.names.queenIndex(code) < 0) wrong(`"${code}"`, 'a queen of the pedigree');
      }
    }
    return [a, b];
  });
  if (read.length === 0) wrong(`"${text}"`, 'pairs such as "A,B;C,D"');
  if (problems.length > 0) throw new WrongInput(problems);
  return read;
}

function checkAll(pedigree: Pedigree): void {
  const { queens } = pedigree.stock.columns;
  if (queens <= MOST_QUEENS_FOR_ALL) return;
  const found = `--all with ${queens} queens`;
  const expected = `at most ${MOST_QUEENS_FOR_ALL} queens with --all`;
  throw new WrongInput([{ column: '--all', found, expected, remedy: 'ask for the pairs you need with --pairs' }]);
}

function tablesOf(report: KinshipReport): Table[] {
  const queens: Table = {
    title: 'inbreeding of the queens and of their brood',
    columns: ['queen', 'inbreeding', 'brood inbreeding'],
    rows: report.queens.map((one) => [one.queen, one.inbreeding, one.broodInbreeding]),
  };
  const pairs: Table = {
    title: 'kinship of pairs',
    columns: ['queen', 'queen', 'relationship', 'coancestry'],
    rows: report.pairs.map((one) => [one.a, one.b, one.relationship, one.coancestry]),
  };
  return report.pairs.length > 0 ? [queens, pairs] : [queens];
}

/** Inbreeding and kinship from a pedigree (contracts.md, command 1). */
export const kinship: Command = {
  name: 'kinship',
  summary: 'inbreeding of queens and brood, and how related any two queens are',
  positionals: [],
  flags: {
    ...pedigreeFlags,
    pairs: { takes: 'text', what: 'pairs of queens, such as "A,B;C,D"' },
    all: { takes: 'nothing', what: 'every pair of different queens' },
  },
  run: async (given, world) => {
    const pedigree = await pedigreeGiven(given, world);
    const pairs = given.has('pairs') ? readPairs(given.text('pairs'), pedigree) : [];
    const all = given.has('all');
    if (all) checkAll(pedigree);
    const progress = (done: number, whole: number) => world.tell(`inbreeding of the brood: ${done} of ${whole} queens`);
    const report = kinshipReport(pedigree, { pairs, all, progress });
    return {
      json: report,
      get tables() {
        return tablesOf(report);
      },
      notes: sayAssumptionsInShort(assumptionsOf(pedigree)),
    };
  },
};
