import { z } from 'zod';
import { barCrossReads, gatherBarCrosses } from '#gather/bar-crosses.ts';
import { gatherNames, nameReads } from '#gather/names.ts';
import { combDays, graftDays } from '#gather/raised.ts';
import { gatherRaisedProfiles, raisedProfileReads } from '#gather/raised-profiles.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { type Question, question } from '../mechanism/question.ts';
import type { Days } from './lanes.ts';

const input = z.strictObject({
  today: dayShape,
  /** Only this bar or comb; without it every one that is still of use. */
  graft: idShape.optional(),
  comb: idShape.optional(),
});

/** What a tag on a bar says. */
export type BarTag = {
  id: string;
  code: string;
  /** The crosses it was grafted for, such as "A, B". */
  cross: string | null;
  grafted: Day;
  ranges: { from: number; to: number; dam: string }[];
  cells: number;
  /** Cells are caged or put into the incubator by this day. */
  cageBy: Day;
  /** The first day a queen may be out, and the day most are. */
  earliest: Day;
  emerges: Day;
  /** Cells accepted and not out yet; `null` where nobody counted. */
  waiting: number | null;
  where: string | null;
};

/** What a pin on a drone comb says. */
export type CombPin = {
  id: string;
  code: string;
  mother: string;
  cross: string | null;
  in: Day | null;
  laid: Days | null;
  out: Days | null;
  /** Sealed brood goes to its holder, behind an excluder, by this day. */
  moveBy: Day | null;
  marked: string | null;
};

export type RaisedTags = { bars: BarTag[]; combs: CombPin[]; today: Day };

type Asked = z.infer<typeof input>;

/** Days a bar or comb is still of use on paper after its last came out. */
const KEPT_AFTER = 2;

async function barTags(facts: Facts, { today, graft: only }: Asked): Promise<BarTag[]> {
  const { ofGraft } = await gatherRaisedProfiles(facts);
  const called = await gatherNames(facts);
  const crosses = new Map((await facts.find('cross')).map(({ id, code }) => [id, code]));
  const colonies = new Map((await facts.find('colony')).map(({ id, code }) => [id, code]));
  const crossesOf = await gatherBarCrosses(facts);
  const ranges = groupBy(await facts.find('graft_range'), ({ graft }) => graft);
  const cells = groupBy(await facts.find('graft_cell'), ({ graft }) => graft);
  const grafts = await facts.find('graft', only === undefined ? {} : { id: only });
  return grafts.flatMap((graft) => {
    const own = cells.get(graft.id) ?? [];
    const profile = ofGraft(graft);
    const { earliest, emerged } = graftDays(graft, own, profile);
    const { graftToEmergence, graftToRipe } = profile.timings;
    if (only === undefined && addDays(graft.day, graftToEmergence.high + KEPT_AFTER) < today) return [];
    const isCounted = own.some(({ accepted }) => accepted !== null);
    const waiting = own.filter(
      (cell) => cell.accepted === 1 && cell.emerged_on === null && cell.lost !== 1 && cell.given_to === null,
    );
    const at = graft.finisher ?? graft.starter;
    return [
      {
        id: graft.id,
        code: graft.code,
        cross:
          crossesOf(graft.id, null)
            .map((id) => crosses.get(id) ?? '')
            .join(', ') || null,
        grafted: graft.day,
        ranges: (ranges.get(graft.id) ?? [])
          .map((range) => ({ from: range.position_from, to: range.position_to, dam: called(range.dam) }))
          .sort((a, b) => a.from - b.from),
        cells: graft.larvae ?? own.length,
        cageBy: addDays(graft.day, graftToRipe.value),
        earliest,
        emerges: emerged.from,
        waiting: isCounted ? waiting.length : null,
        where: at === null ? null : (colonies.get(at) ?? null),
      },
    ];
  });
}

async function combPins(facts: Facts, { today, comb: only }: Asked): Promise<CombPin[]> {
  const { ofComb } = await gatherRaisedProfiles(facts);
  const called = await gatherNames(facts);
  const crosses = new Map((await facts.find('cross')).map(({ id, code }) => [id, code]));
  const combs = await facts.find('drone_comb', only === undefined ? {} : { id: only });
  return combs.flatMap((comb) => {
    const days = combDays(comb, ofComb(comb));
    const out = days === null ? null : { from: days.emerged.from, to: days.emerged.to };
    if (only === undefined && out !== null && addDays(out.to, KEPT_AFTER) < today) return [];
    return [
      {
        id: comb.id,
        code: comb.code,
        mother: comb.mother === null ? '' : called(comb.mother),
        cross: comb.cross === null ? null : (crosses.get(comb.cross) ?? null),
        in: comb.in_on,
        laid: days === null ? null : { from: days.laid.from, to: days.laid.to },
        out,
        moveBy: out === null ? null : addDays(out.from, -1),
        marked: comb.marked_how,
      },
    ];
  });
}

const earliestFirst = (a: BarTag, b: BarTag) => (a.earliest < b.earliest ? -1 : Number(a.earliest > b.earliest));

/** What tags on bars, pins on combs and the list on the incubator door say. */
export const raisedTags: Question<Asked, RaisedTags, RaisedTags> = question({
  name: 'raised-tags',
  what: 'Bars and drone combs as their tags, pins and the list on the incubator door name them.',
  input,
  reads: [...raisedProfileReads, ...nameReads, ...barCrossReads, 'graft_range', 'graft_cell', 'drone_comb', 'colony'],
  async gather(asked, facts) {
    const bars = asked.comb === undefined ? await barTags(facts, asked) : [];
    const combs = asked.graft === undefined ? await combPins(facts, asked) : [];
    return { bars: bars.sort(earliestFirst), combs, today: asked.today };
  },
  answer: (tags) => tags,
});
