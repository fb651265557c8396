/** Genetic groups from the columns of QUEENS.csv that a model names. */
import { eachRow, fieldText, openCsv } from '#numeric/csv/csv.ts';
import { csvFileProblem, type FileProblem, fileProblem } from '../../pedigree/files/file-problem.ts';
import type { NamedBytes } from '../../pedigree/files/read-pedigree.ts';
import type { Pedigree } from '../../pedigree/laid-pedigree.ts';
import { type Groups, groupsOf } from '../groups.ts';
import type { Model } from '../model.ts';

/** The groups (undefined where the model names none), and what is wrong with the file. */
export type ReadGroups = { groups: Groups | undefined; problems: FileProblem[] };

/** More groups than this cannot be meant: the column names single queens. */
const MOST_GROUPS = 1000;

/**
 * Reads the groups of a model; none when it names none. The file is the one the pedigree was read from.
 * @example const { pedigree } = readPedigree(workedFiles.queens, workedFiles.semen);
 * readGroups(workedFiles.queens, pedigree, readModel(workedFiles.model).model).groups.names // ['1', '2']
 */
export function readGroups(file: NamedBytes, pedigree: Pedigree, model: Model): ReadGroups {
  if (model.groups === undefined) return { groups: undefined, problems: [] };
  const csv = openCsv(file.bytes);
  if ('code' in csv) return { groups: undefined, problems: [csvFileProblem(file.name, csv)] };
  const { founders, open, variance } = model.groups;
  const missing = [founders, open].filter((name) => name !== undefined && !csv.columns.includes(name));
  if (missing.length > 0) {
    const found = `columns ${csv.columns.join(', ')}`;
    const problems = missing.map((column) =>
      fileProblem(file.name, 'column-missing', found, { row: csv.headerRow, column }),
    );
    return { groups: undefined, problems };
  }
  const queen = csv.columns.indexOf('queen');
  const named = (column: string | undefined) => ({
    at: column === undefined ? -1 : csv.columns.indexOf(column),
    names: new Map<string, string>(),
  });
  const [founder, openDrones] = [named(founders), named(open)];
  eachRow(csv, (row) => {
    for (const { at, names } of [founder, openDrones]) {
      const name = at < 0 ? '' : fieldText(csv, row, at);
      if (name !== '') names.set(fieldText(csv, row, queen), name);
    }
  });
  const groups = groupsOf(pedigree, { founder: founder.names, open: openDrones.names, variance });
  if (groups.names.length <= MOST_GROUPS) return { groups, problems: [] };
  const found = `${groups.names.length} different names`;
  const problem = {
    file: file.name,
    column: [founders, open].filter((name) => name !== undefined).join(' and '),
    code: 'groups-too-many',
    found,
    expected: `at most ${MOST_GROUPS} genetic groups`,
    remedy: 'name a column of lines or places in the model',
  };
  return { groups: undefined, problems: [problem] };
}
