import type { Row } from '#records/kinds.ts';
import { daysBetween } from '#units/calendar-day.ts';
import { doubt, type Problem } from '#units/problem.ts';
import { idsOf, type StandingRule } from './standing-rule.ts';

/** Both days and by how much they are the wrong way round, or nothing when they are right or not both known. */
function wrongWay(daughter: Row<'queen'>, dam: Row<'queen'>): Problem[] {
  if (daughter.emerged === null || dam.emerged === null || daughter.emerged > dam.emerged) return [];
  const values = {
    kind: 'queen',
    id: daughter.id,
    daughter: daughter.code ?? daughter.id,
    emerged: daughter.emerged,
    dam: dam.code ?? dam.id,
    damEmerged: dam.emerged,
    days: daysBetween(daughter.emerged, dam.emerged),
  };
  return [doubt('emerged', 'daughter-older-than-dam', values)];
}

/** A daughter emerges after her dam. */
export const damBeforeDaughter: StandingRule = {
  says: 'a daughter emerges after her dam',
  about: ['queen'],
  async check(book, touched) {
    const ids = [...idsOf(touched, 'queen')];
    const mine = await book.find('queen', { id: ids });
    const theirs = await book.find('queen', { dam: ids });
    const daughters = new Map([...mine, ...theirs].map((queen) => [queen.id, queen]));
    const damIds = [...daughters.values()].flatMap(({ dam }) => (dam === null ? [] : [dam]));
    const dams = new Map((await book.find('queen', { id: [...new Set(damIds)] })).map((dam) => [dam.id, dam]));
    return [...daughters.values()].flatMap((daughter) => {
      const dam = daughter.dam === null ? undefined : dams.get(daughter.dam);
      return dam === undefined ? [] : wrongWay(daughter, dam);
    });
  },
};
