import { descentProblems } from '#domain/pedigree/pedigree.ts';
import { gatherPedigree } from '#gather/pedigree.ts';
import type { Book, Touched } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import { refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { idsOf, type StandingRule } from './standing-rule.ts';

/** Kinds that say what a queen carries. */
const matingKinds = [
  'insemination',
  'insemination_source',
  'natural_mating',
  'mating_season_source',
  'pool_word',
  'ledger_line',
] as const;

async function matedQueens(book: Book, touched: Touched): Promise<RecordId[]> {
  const lines = await book.find('ledger_line', { id: [...idsOf(touched, 'ledger_line')] });
  const sources = await book.find('insemination_source', { id: [...idsOf(touched, 'insemination_source')] });
  const doses = [...lines, ...sources].flatMap(({ insemination }) => (insemination === null ? [] : [insemination]));
  const inseminations = await book.find('insemination', { id: [...idsOf(touched, 'insemination'), ...doses] });
  const stood = await book.find('mating_season_source', { id: [...idsOf(touched, 'mating_season_source')] });
  const flights = [
    ...(await book.find('natural_mating', { id: [...idsOf(touched, 'natural_mating')] })),
    ...(await book.find('natural_mating', { season: stood.map(({ season }) => season) })),
  ];
  const words = await book.find('pool_word', { id: [...idsOf(touched, 'pool_word')] });
  return [...inseminations, ...flights, ...words].map(({ queen }) => queen);
}

/** A loop needs a queen with a dam and a mating with daughters: a virgin at the bench has none, and costs nothing here. */
async function couldLoop(book: Book, touched: Touched): Promise<boolean> {
  const changed = await book.find('queen', { id: [...idsOf(touched, 'queen')] });
  const bornOf = changed.filter(({ dam, cell }) => dam !== null || cell !== null).map(({ id }) => id);
  const mothers = [...new Set([...(await matedQueens(book, touched)), ...bornOf])];
  if (mothers.length === 0) return false;
  const used = await Promise.all([
    book.count('queen', { dam: mothers }),
    book.count('graft_range', { dam: mothers }),
    book.count('sister_group', { dam: mothers }),
    book.count('drone_catch_source', { mother: mothers }),
    book.count('insemination_source', { queen: mothers }),
    book.count('mating_season_source', { queen: mothers }),
    book.count('pool_word', { mother: mothers }),
    book.count('drone_comb', { mother: mothers }),
  ]);
  return used.some((n) => n > 0);
}

/** No queen is her own ancestress, neither through dams nor through the semen her dam was inseminated with. */
export const noLoopInDescent: StandingRule = {
  says: 'no queen descends from herself',
  about: ['queen', 'sister_group', 'graft_range', ...matingKinds] satisfies KindName[],
  async check(book, touched) {
    if (!(await couldLoop(book, touched))) return [];
    return descentProblems((await gatherPedigree(book)).facts)
      .filter(({ code }) => code === 'pedigree-loop')
      .map(({ values }) => refuse('dam', 'descent-loop', { code: values.found ?? '', loop: values.loop ?? '' }));
  },
};
