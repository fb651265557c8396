import { z } from 'zod';
import { usableDays } from '#domain/living/usable-window.ts';
import { spanOf } from '#gather/raised.ts';
import { gatherRaisedProfiles } from '#gather/raised-profiles.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { type CombLine, gatherRaised, raisedReads } from './gather-raised.ts';
import type { Days } from './lanes.ts';

const input = z.strictObject({ comb: idShape, today: dayShape });

/** Everything about one drone comb. `hard`: days its drones can be used at all; `ripe`: days of the preferred age. */
export type CombLeaf = {
  comb: Row<'drone_comb'>;
  line: CombLine;
  ripe: Days | null;
  hard: Days | null;
  cross: { id: string; code: string } | null;
  /** The day the plan had it hung in, where it was planned. */
  planned: Day | null;
  colony: string | null;
  holder: string | null;
};

/** The leaf of one drone comb; `null` when there is none. */
export const combLeaf: Question<z.infer<typeof input>, CombLeaf | null, CombLeaf | null> = question({
  name: 'comb-leaf',
  what: 'Everything about one drone comb: mother, days, where it hangs, when its drones are of age.',
  input,
  reads: [...raisedReads, 'cross', 'planned_comb', 'colony'],
  async gather({ comb: id }, facts) {
    const comb = await facts.get('drone_comb', id);
    if (comb === null) return null;
    const line = (await gatherRaised(facts)).combs.find((each) => each.id === id);
    if (line === undefined) return null;
    const span = line.emerged === null ? null : spanOf(line.emerged);
    const { preferred, hard } = (await gatherRaisedProfiles(facts)).ofComb(comb).drones;
    const [planned] = await facts.find('planned_comb', { drone_comb: id });
    const cross = await facts.get('cross', comb.cross);
    return {
      comb,
      line,
      ripe: span === null ? null : usableDays(span, preferred).some,
      hard: span === null ? null : usableDays(span, hard).some,
      cross: cross === null ? null : { id: cross.id, code: cross.code },
      planned: planned?.in_on ?? null,
      colony: (await facts.get('colony', comb.colony))?.code ?? null,
      holder: (await facts.get('colony', comb.holder))?.code ?? null,
    };
  },
  answer: (leaf) => leaf,
});
