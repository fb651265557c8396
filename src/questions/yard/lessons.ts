import { z } from 'zod';
import { type Funnel, funnelOf } from '#domain/lessons/funnel.ts';
import { groupsOf } from '#domain/lessons/groups.ts';
import { type Lessons, lessonsOf } from '#domain/lessons/lessons.ts';
import { type Stair, stairsOf } from '#domain/lessons/losses.ts';
import { type Luck, luckOf } from '#domain/lessons/luck.ts';
import { isLoss } from '#domain/lessons/outcome.ts';
import { OUTCOME_COLUMNS, outcomeRows } from '#domain/lessons/outcomes-table.ts';
import { type RunPoint, runLineFor, runOf, USUAL_LIMITS } from '#domain/lessons/runs.ts';
import { changedTogether, type Together } from '#domain/lessons/together.ts';
import { gatherOutcomes, outcomeReads, type RecordedOutcome } from '#gather/outcomes.ts';
import { dayShape } from '#records/field.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';

/** What queens can be parted by, in the order they are offered. */
export const factors = [
  'operator',
  'batch',
  'tip',
  'storage_days',
  'queen_age',
  'care',
  'drone_age',
  'co2',
  'dose',
  'saline',
  'bench_day',
  'cross',
  'exceptions',
] as const;
export type Factor = (typeof factors)[number];

const input = z.strictObject({
  today: dayShape,
  by: z.enum(factors).default('operator'),
  /** Only queens inseminated on these days. */
  from: dayShape.optional(),
  to: dayShape.optional(),
});

/** One queen behind the counts. */
export type Behind = {
  id: string;
  queen: string;
  group: string | null;
  inseminated: Day | null;
  laying: boolean | null;
  layingOn: Day | null;
  lostOn: Day | null;
  fate: string | null;
  storageDays: number | null;
};

/** One group against all others, in counts. */
export type Comparison = {
  group: string | null;
  laying: number;
  known: number;
  othersLaying: number;
  othersKnown: number;
  luck: Luck;
};

export type LessonsAnswer = {
  lessons: Lessons;
  comparisons: Comparison[];
  funnel: Funnel | null;
  together: Together[];
  stairs: { group: string | null; stairs: Stair[] }[];
  runs: { group: string | null; points: RunPoint[]; signals: number[] }[];
  behind: Behind[];
  /** Of these, known to be lost: sold, given and sampled queens are not. */
  lost: number;
  /** Factors of which anything is written down. */
  offered: Factor[];
};

function comparisonsOf({ overall, groups }: Lessons): Comparison[] {
  const compared = groups.filter(({ known }) => known > 0).length;
  return groups.map(({ group, laying, known, chanceAlone }) => ({
    group,
    laying,
    known,
    othersLaying: overall.laying - laying,
    othersKnown: overall.known - known,
    luck: luckOf(chanceAlone, compared),
  }));
}

const behindOf = (one: RecordedOutcome, by: Factor): Behind => ({
  id: one.queenId,
  queen: one.queen,
  group: one.factors[by] || null,
  inseminated: one.inseminated,
  laying: one.laying,
  layingOn: one.layingOn,
  lostOn: one.lostOn,
  fate: one.fate,
  storageDays: one.factors.storage_days ? Number(one.factors.storage_days) : null,
});

/** Points of a run name their queen by id, so that each leads to her. */
function runsOf(outcomes: readonly RecordedOutcome[], by: Factor): LessonsAnswer['runs'] {
  const line = runLineFor(USUAL_LIMITS);
  const withIds = outcomes.map((one) => ({ ...one, queen: one.queenId as string }));
  return groupsOf(withIds, by).map(({ group, outcomes: members }) => {
    const { points, signals } = runOf(members, line);
    return { group, points, signals };
  });
}

function lessonsAnswer(all: RecordedOutcome[], { by, from, to }: z.infer<typeof input>): LessonsAnswer {
  const outcomes = all.filter(
    ({ inseminated }) =>
      (from === undefined || (inseminated !== null && inseminated >= from)) &&
      (to === undefined || (inseminated !== null && inseminated <= to)),
  );
  const lessons = lessonsOf(outcomes, { by });
  const known = lessons.groups.map(({ group, laying, known: of, rate, low, high }) => ({
    group,
    known: { laying, of, rate, low, high },
  }));
  const grouped = groupsOf(outcomes, by).map(({ group, outcomes: members }) => ({ group, stairs: stairsOf(members) }));
  return {
    lessons,
    comparisons: comparisonsOf(lessons),
    funnel: funnelOf(known, lessons.overall.rate),
    together: changedTogether(outcomes, { by, factors }),
    stairs: [{ group: null, stairs: stairsOf(outcomes) }, ...grouped.filter(({ group }) => group !== null)],
    runs: runsOf(outcomes, by),
    behind: outcomes.map((one) => behindOf(one, by)),
    lost: outcomes.filter(isLoss).length,
    offered: factors.filter((factor) => all.some((one) => one.factors[factor])),
  };
}

/** What worked: of the queens inseminated, how many lay, by one factor, with both denominators and what luck explains. */
export const lessons: Question<z.infer<typeof input>, RecordedOutcome[], LessonsAnswer> = question({
  name: 'lessons',
  what: 'Of the queens inseminated, how many lay, by operator, batch, tip or another factor, and what luck explains.',
  input: input as unknown as z.ZodType<z.infer<typeof input>>,
  reads: outcomeReads,
  gather: ({ today }, facts) => gatherOutcomes(facts, today),
  answer: lessonsAnswer,
});

const outcomesInput = z.strictObject({ today: dayShape });

/** What became of every queen inseminated, as the rows of an OUTCOMES.csv. */
export const outcomes: Question<
  z.infer<typeof outcomesInput>,
  RecordedOutcome[],
  { columns: readonly string[]; rows: string[][] }
> = question({
  name: 'outcomes',
  what: 'What became of every queen inseminated, as the rows of an OUTCOMES table.',
  input: outcomesInput,
  reads: outcomeReads,
  gather: ({ today }, facts) => gatherOutcomes(facts, today),
  answer: (all) => ({ columns: OUTCOME_COLUMNS, rows: outcomeRows(all) }),
});
