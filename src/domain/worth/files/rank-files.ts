/** From the files of a stock to its ranking in one call, for a worker beside a page: bytes in, the best queens out. */
import type { FileProblem } from '../../pedigree/files/file-problem.ts';
import { type NamedBytes, readPedigree } from '../../pedigree/files/read-pedigree.ts';
import { type BreedingValues, breedingValues, type QueenWorth, type ReliabilityKind } from '../breeding-values.ts';
import { readGroups } from './read-groups.ts';
import { readModel } from './read-model.ts';
import { readRecords } from './read-records.ts';

export type StockFiles = {
  queens: NamedBytes;
  semen?: NamedBytes;
  records: NamedBytes;
  model: NamedBytes;
  reliability?: ReliabilityKind;
  /** Best queens of each trait to give back, by worth as mother of queens; default 1000. */
  most?: number;
};

/** The best queens, how their reliabilities were worked out, and how far the solving went. */
export type Ranking = Pick<BreedingValues, 'reliability' | 'reliabilityError' | 'iterations' | 'residual'> & {
  problems: [];
  /** How many queens were evaluated. */
  queens: number;
  records: number;
  /** By trait, the best first. */
  best: Record<string, QueenWorth[]>;
};

/**
 * Reads, evaluates and ranks; or everything that is wrong with the files, as the command line says it.
 * Codes of problems and their words are those of the readers; `progress` is told steps done of all. Nothing is thrown for what a file holds.
 * @example rankFiles(workedFiles).best.honey[0] // { queen: 'Q1', asMotherOfQueens: 1.4528, reliability: 0.0646 }
 */
export function rankFiles(
  files: StockFiles,
  progress: (done: number, whole: number) => void = () => undefined,
): Ranking | { problems: FileProblem[] } {
  const { pedigree, problems } = readPedigree(files.queens, files.semen);
  if (pedigree === null) return { problems };
  progress(20, 100);
  const model = readModel(files.model);
  if (model.model === null) return { problems: model.problems };
  const records = readRecords(files.records, pedigree.stock, model.model);
  if (records.records === null) return { problems: records.problems };
  const groups = readGroups(files.queens, pedigree, model.model);
  if (groups.problems.length > 0) return { problems: groups.problems };
  progress(30, 100);
  const values = breedingValues(pedigree, records.records, model.model, {
    ...(files.reliability && { reliability: files.reliability }),
    ...(groups.groups && { groups: groups.groups }),
    progress: (_, residual) => {
      progress(30 + Math.round(3 * Math.min(10, Math.max(0, -Math.log10(residual)))), 100);
      return undefined;
    },
  });
  const best = (trait: string) =>
    values.queens
      .filter((one) => one.trait === trait)
      .sort((a, b) => b.asMotherOfQueens - a.asMotherOfQueens)
      .slice(0, files.most ?? 1000);
  progress(100, 100);
  const { reliability, reliabilityError, iterations, residual } = values;
  return {
    problems: [],
    queens: pedigree.stock.columns.queens,
    records: records.records.count,
    best: Object.fromEntries(model.model.traits.map((trait) => [trait, best(trait)])),
    reliability,
    reliabilityError,
    iterations,
    residual,
  };
}
