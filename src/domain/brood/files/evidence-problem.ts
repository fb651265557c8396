/** Problems with evidence, told at the row of the file they came from. */
import type { FileProblem } from '../../pedigree/files/file-problem.ts';
import type { BroodProblem } from '../evidence.ts';

const WORDS: Record<BroodProblem['code'], { expected: string; remedy: string }> = {
  'brood-evidence-queen-unknown': {
    expected: 'a queen of the pedigree',
    remedy: 'correct the code or take the row out',
  },
  'brood-evidence-group': { expected: 'one queen, not a group of sisters', remedy: 'give the sister a row of her own' },
  'brood-alleles-alike': { expected: 'two different alleles', remedy: 'correct the typing: a queen always has two' },
  'brood-alleles-twice': { expected: 'each queen once', remedy: 'take one of the rows out' },
  'brood-alleles-too-many': { expected: 'no more labels than alleles', remedy: 'give a larger --alleles' },
  'brood-count-impossible': {
    expected: 'at least one cell and not more viable ones than cells',
    remedy: 'correct the count',
  },
  'brood-evidence-contradicts': {
    expected: 'evidence that at least one draw agrees with',
    remedy: 'check her descent, her mating and what was typed or counted; or ask for more --draws',
  },
};

type Files = {
  alleles?: { name: string; rows: readonly number[] };
  counts?: { name: string; rows: readonly number[] };
};

/** The problem at its place: `alleles.3` is the fourth row of the alleles file, `counts.0` the first of the counts. */
export function evidenceProblem(problem: BroodProblem, files: Files): FileProblem {
  const [kind, index, field] = problem.path.split('.');
  const file = kind === 'counts' ? files.counts : files.alleles;
  const { queen, found, alleles } = problem.values;
  const row = index === undefined ? undefined : file?.rows[Number(index)];
  return {
    file: file?.name ?? '',
    ...(row === undefined ? {} : { row }),
    ...(field === undefined ? {} : { column: field }),
    code: problem.code,
    found: alleles === undefined ? `"${queen ?? found}"` : `${found} labels with ${alleles} alleles`,
    ...WORDS[problem.code],
  };
}
