import { z } from 'zod';
import {
  type ByNow,
  type Clocked,
  type Lateness,
  lastInseminated,
  latenessOf,
  layingBy,
  layingSteps,
} from '#domain/lessons/laying-clock.ts';
import { gatherOutcomes, outcomeReads, type RecordedOutcome } from '#gather/outcomes.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { KindName } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, type YardBook, yardReads } from './yard-book.ts';
import { isDue } from './yards.ts';

/** So many past queens make the rule. */
const PAST_QUEENS = 60;
/** The clock runs so many days after the insemination. */
const CLOCK_DAYS = 35;

const input = z.strictObject({
  today: dayShape,
  /** Only this yard. */
  yard: idShape.optional(),
});

/** A nuc of the round: is it due, is she late, and which clock she stands on. */
export type RoundNuc = Nuc & {
  due: boolean;
  /** Her eggs were seen already. */
  hasEggs: boolean;
  /** How many of the last queens had eggs by her day, and what that makes of her; `null` when she is not inseminated. */
  rule: (ByNow & { lateness: Lateness }) | null;
  clock: string | null;
};

/** The steps of one batch: queens of one cross inseminated on one day. */
export type BatchClock = { key: string; inseminated: Day; queens: number; steps: ByNow[] };

export type RoundAnswer = {
  today: Day;
  nucs: RoundNuc[];
  clocks: BatchClock[];
  /** Past batches, newest first, as pale steps behind. */
  past: BatchClock[];
  pastQueens: number;
};

type Gathered = { book: YardBook; outcomes: RecordedOutcome[] };

const clockedOf = (one: RecordedOutcome): Clocked[] =>
  one.inseminated === null
    ? []
    : [
        {
          queen: one.queenId,
          inseminated: one.inseminated,
          eggsOn: one.eggsOn,
          watchedTo: one.checkedOn,
          lostWithout: one.eggsOn === null && one.lostOn !== null && one.laying === false,
        },
      ];

const batchKey = (one: Pick<RecordedOutcome, 'cross' | 'inseminated'>) => `${one.cross ?? ''} ${one.inseminated ?? ''}`;

function batchesOf(outcomes: readonly RecordedOutcome[]): Map<string, RecordedOutcome[]> {
  const batches = new Map<string, RecordedOutcome[]>();
  for (const one of outcomes) batches.set(batchKey(one), [...(batches.get(batchKey(one)) ?? []), one]);
  return batches;
}

function roundNuc(nuc: Nuc, { outcomes }: Gathered, today: Day): RoundNuc {
  const hers = outcomes.filter(({ queenId }) => queenId === nuc.head?.id).at(-1);
  const day = nuc.inseminated?.days ?? null;
  const past =
    hers?.inseminated == null ? [] : outcomes.filter((one) => batchKey(one) !== batchKey(hers)).flatMap(clockedOf);
  const last = hers?.inseminated == null ? [] : lastInseminated(past, hers.inseminated, PAST_QUEENS);
  return {
    ...nuc,
    due: isDue(nuc, today),
    hasEggs: hers?.eggsOn != null,
    rule: day === null ? null : { ...layingBy(last, day), lateness: latenessOf(last, day) },
    clock: hers === undefined ? null : batchKey(hers),
  };
}

function roundAnswer(gathered: Gathered, { today, yard }: z.infer<typeof input>): RoundAnswer {
  const here = gathered.book.nucs.filter((nuc) => nuc.head !== null && (yard === undefined || nuc.yard?.id === yard));
  const nucs = here.map((nuc) => roundNuc(nuc, gathered, today));
  const shown = new Set(nucs.filter(({ next }) => next !== null).map(({ clock }) => clock));
  const batches = [...batchesOf(gathered.outcomes)].sort(([, a], [, b]) =>
    (a[0]?.inseminated ?? '') > (b[0]?.inseminated ?? '') ? -1 : 1,
  );
  const stepsOf = (batch: readonly RecordedOutcome[]) => layingSteps(batch.flatMap(clockedOf), CLOCK_DAYS);
  const clockOf = ([key, batch]: (typeof batches)[number]): BatchClock => ({
    key,
    inseminated: batch[0]?.inseminated as Day,
    queens: batch.length,
    steps: stepsOf(batch),
  });
  const clocks = batches.filter(([key]) => shown.has(key)).map(clockOf);
  const past = batches.filter(([key, [first]]) => !shown.has(key) && first?.inseminated != null);
  return {
    today,
    nucs,
    clocks,
    past: past.slice(0, 6).map(clockOf),
    pastQueens: past.flatMap(([, batch]) => batch).length,
  };
}

/** The nucs of a laying round in walking order, those to be opened first told, with the laying clock of each queen. */
export const layingRound = question({
  name: 'laying-round',
  what: 'The nucs of a laying round in walking order, what is due in each, and whether its queen is late.',
  input,
  reads: [...yardReads, ...outcomeReads] as readonly KindName[],
  gather: async ({ today }, facts): Promise<Gathered> => ({
    book: await gatherYardBook(facts, today),
    outcomes: await gatherOutcomes(facts, today),
  }),
  answer: roundAnswer,
});
