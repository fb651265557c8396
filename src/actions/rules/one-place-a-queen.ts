import { queensInTwoPlaces } from '#domain/living/two-places.ts';
import { gatherStays } from '#gather/stays.ts';
import { doubt } from '#units/problem.ts';
import { idsOf, type StandingRule } from './standing-rule.ts';

/** A queen is in one place at a time. */
export const onePlaceAQueen: StandingRule = {
  says: 'a queen is in one place at a time',
  about: ['stay', 'identity_exchange'],
  async check(book, touched) {
    const stays = await book.find('stay', { id: [...idsOf(touched, 'stay')] });
    const queens = new Set<string>(stays.map(({ queen }) => queen));
    if (queens.size === 0) return [];
    const all = (await gatherStays(book)).filter(({ queen }) => queens.has(queen));
    const rows = new Map<string, string | null>(
      (await book.find('queen', { id: stays.map(({ queen }) => queen) })).map(({ id, code }) => [id, code]),
    );
    const nameOf = (id: string) => rows.get(id) ?? id.slice(-6);
    const doubts = queensInTwoPlaces(all).map(({ values }) => String(values.queen));
    return [...new Set(doubts)].map((id) =>
      doubt('queen', 'queen-in-two-places', { kind: 'queen', id, code: nameOf(id) }),
    );
  },
};
