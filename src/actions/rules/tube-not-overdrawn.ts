import { gatherLedger } from '#gather/ledger.ts';
import { doubt } from '#units/problem.ts';
import { idsOf, type StandingRule } from './standing-rule.ts';

/** Tenths of a microlitre below which nobody can read: no worry for rounding. */
const READABLE = 0.05;

/** What came out of a tube was in it. A fact is kept all the same: the tube is shown overdrawn until somebody settles it. */
export const tubeNotOverdrawn: StandingRule = {
  says: 'no more comes out of a tube than was in it',
  about: ['ledger_line'],
  async check(book, touched) {
    const lines = await book.find('ledger_line', { id: [...idsOf(touched, 'ledger_line')] });
    const tubes = new Set(lines.flatMap(({ tube, from_tube }) => (from_tube === null ? [tube] : [tube, from_tube])));
    if (tubes.size === 0) return [];
    const { story, tubes: rows } = await gatherLedger(book);
    return rows
      .filter(({ id }) => tubes.has(id) && (story.tubes.get(id)?.overdrawn ?? 0) > READABLE)
      .map(({ id, code }) => {
        const by = Math.round((story.tubes.get(id)?.overdrawn ?? 0) * 10) / 10;
        return doubt('tube', 'tube-overdrawn', { kind: 'tube', id, code, by });
      });
  },
};
