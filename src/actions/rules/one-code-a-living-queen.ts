import type { Book } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { idsOf, type StandingRule } from './standing-rule.ts';

/** Of these queens, those whose story has not ended: nothing was recorded that ended it. */
async function livingAmong(book: Book, queens: readonly Row<'queen'>[]): Promise<Row<'queen'>[]> {
  const ended = await book.find('fate', { queen: queens.map(({ id }) => id) });
  const gone = new Set(ended.map(({ queen }) => queen));
  return queens.filter(({ id }) => !gone.has(id));
}

/** A code names one living queen of a keeper; past bearers may have borne it too. */
export const oneCodeALivingQueen: StandingRule = {
  says: 'a code is borne by one living queen of a keeper',
  about: ['queen', 'fate'],
  async check(book, touched) {
    const ended = await book.find('fate', { id: [...idsOf(touched, 'fate')] });
    const ids: RecordId[] = [...idsOf(touched, 'queen'), ...ended.map(({ queen }) => queen)];
    const mine = (await book.find('queen', { id: ids })).filter(({ code }) => code !== null);
    const codes = [...new Set(mine.map(({ code }) => code as string))];
    const bearers = await livingAmong(book, await book.find('queen', { code: codes }));
    const byCode = groupBy(bearers, ({ code, keeper }) => `${keeper ?? ''} ${code}`);
    const touchedIds = new Set(ids);
    return [...byCode.values()].flatMap((sharing): Problem[] => {
      const other = sharing.find(({ id }) => !touchedIds.has(id)) ?? sharing[0];
      if (sharing.length < 2 || other === undefined || !sharing.some(({ id }) => touchedIds.has(id))) return [];
      return [refuse('code', 'code-taken', { code: other.code ?? '', kind: 'queen', id: other.id })];
    });
  },
};
