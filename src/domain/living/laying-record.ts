import type { Day } from '#units/calendar-day.ts';
import { inOrder, type LayingCheck } from './check.ts';
import { type Verdict, verdictOf } from './check-verdict.ts';
import type { DaySpan } from './day-span.ts';

/** What her brood turned out to be (contracts.md, OUTCOMES). */
export type Brood = 'worker' | 'drone' | 'none' | 'unknown';

/** What the looks at a queen since an insemination add up to. */
export type LayingRecord = {
  /** yes = capped worker brood was seen; no = she failed; null = not yet known. */
  laying: 'yes' | 'no' | null;
  /** The day capped worker brood was first seen. */
  layingOn: Day | null;
  /** Between the last look without eggs and the first with: when her laying began; null when no eggs were seen. */
  began: DaySpan | null;
  brood: Brood;
  /** Drone caps without worker caps at the last look that showed caps. */
  isDroneLayer: boolean;
  /** The last day anybody looked. */
  checkedOn: Day | null;
};

const showsEggs: readonly Verdict[] = ['laying', 'scattered-drone', 'drone-layer', 'eggs', 'eggs-doubtful'];
const isWorker = (verdict: Verdict): boolean => verdict === 'laying' || verdict === 'scattered-drone';

type Looked = { day: Day; verdict: Verdict };

function beginning(looks: readonly Looked[], since: Day | null): DaySpan | null {
  const first = looks.find((look) => showsEggs.includes(look.verdict));
  if (first === undefined) return null;
  const before = looks.filter((look) => look.day < first.day && look.verdict === 'no-eggs').at(-1);
  return { earliest: before?.day ?? since ?? first.day, latest: first.day };
}

function broodOf(caps: Looked | undefined, looks: readonly Looked[]): Brood {
  if (caps !== undefined) return isWorker(caps.verdict) ? 'worker' : 'drone';
  if (looks.length === 0) return 'unknown';
  return looks.at(-1)?.verdict === 'no-eggs' ? 'none' : 'unknown';
}

/**
 * Adds up the looks at one queen. Laying means capped *worker* brood, seen at any look: a drone layer is a failure, and one who
 * fails later has laid. `no` while only drone caps were seen, or when she is gone as a loss (`isLost`) without worker brood;
 * otherwise nothing is known yet, also when only eggs were seen.
 * @param facts looks in any order; `since` the day of the insemination (looks before it do not count); `isLost` from her fate
 */
export function layingRecord(facts: {
  checks: readonly LayingCheck[];
  since: Day | null;
  isLost: boolean;
}): LayingRecord {
  const looks = inOrder(facts.checks)
    .filter((check) => facts.since === null || check.day >= facts.since)
    .map((check): Looked => ({ day: check.day, verdict: verdictOf(check) }))
    .filter((look) => look.verdict !== 'not-looked');
  const hers = looks.filter((look) => look.verdict !== 'another-queen' && look.verdict !== 'gone');
  const worker = hers.find((look) => isWorker(look.verdict));
  const caps = hers.filter((look) => isWorker(look.verdict) || look.verdict === 'drone-layer').at(-1);
  const hasFailed = caps !== undefined || facts.isLost;
  return {
    laying: worker !== undefined ? 'yes' : hasFailed ? 'no' : null,
    layingOn: worker?.day ?? null,
    began: beginning(hers, facts.since),
    brood: broodOf(worker ?? caps, hers),
    isDroneLayer: caps?.verdict === 'drone-layer',
    checkedOn: looks.at(-1)?.day ?? null,
  };
}
