import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';
import type { BiologyProfile } from '../profile.ts';
import { combTasks, graftTasks } from '../raising-tasks.ts';
import type { Task } from '../task.ts';

/** A comb as far as it was seen: hung in, first and last eggs. */
export type CombSeen = { in: Day | null; laid: { from: Day; to: Day } | null };

/** What has been raised for a plan so far: days of grafts, and combs. */
export type RaisedSoFar = { grafted: readonly Day[]; combs: readonly CombSeen[] };

type Span = Pick<Task, 'from' | 'to'>;
type Spans = Map<string, Span>;

/** The first and last day over several things of one kind. */
function widen(spans: Spans, { key, from, to }: Pick<Task, 'key' | 'from' | 'to'>): void {
  const known = spans.get(key);
  const wider = known === undefined ? { from, to } : { from: earlierOf(known.from, from), to: laterOf(known.to, to) };
  spans.set(key, wider);
}

/** Days that depend on the graft; the starter and the graft itself are over. */
const AFTER_GRAFT: ReadonlySet<string> = new Set(['nucs-ready', 'cells-out', 'virgins-emerge']);

function afterGrafts(grafted: readonly Day[], profile: BiologyProfile): Spans {
  const spans: Spans = new Map();
  for (const day of grafted)
    for (const task of graftTasks(day, profile)) if (AFTER_GRAFT.has(task.key)) widen(spans, task);
  return spans;
}

function afterCombs(combs: readonly CombSeen[], profile: BiologyProfile): Spans {
  const { combLead, droneEggToEmergence } = profile.timings;
  const spans: Spans = new Map();
  for (const { in: hung, laid } of combs) {
    if (laid !== null) {
      const first = addDays(laid.from, droneEggToEmergence.value);
      const out = addDays(first, -1);
      widen(spans, { key: 'drone-brood-out', from: out, to: out });
      widen(spans, { key: 'drones-emerge', from: first, to: addDays(laid.to, droneEggToEmergence.value) });
    } else if (hung !== null) {
      for (const task of combTasks(hung, profile)) if (task.key !== 'drone-comb-in') widen(spans, task);
      const check = addDays(hung, combLead.value + 2);
      spans.set('drone-egg-check', { from: check, to: check });
    }
  }
  const brood = spans.get('drone-brood-out');
  if (brood !== undefined) spans.set('drone-brood-out', { from: brood.from, to: brood.from });
  return spans;
}

/**
 * The tasks of a plan with what has been raised for it in the place of what was planned: after a graft a day late, cells come out a day late; a comb laid two days
 * late gives its drones two days late. What nobody has seen yet stays where the plan has it.
 */
export function asRaised(tasks: readonly Task[], { grafted, combs }: RaisedSoFar, profile: BiologyProfile): Task[] {
  const spans = new Map([...afterGrafts(grafted, profile), ...afterCombs(combs, profile)]);
  return tasks.map((task) => {
    const span = spans.get(task.key);
    return span === undefined ? task : { ...task, day: span.from, ...span };
  });
}
