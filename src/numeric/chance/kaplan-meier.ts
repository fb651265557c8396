import { type Interval, Z95 } from '../intervals/interval.ts';

/**
 * One watched case: it was watched to `time` (in any unit), and then it happened or watching ended. `from`: watching began only after that time, because
 * the case came in later (left truncation); left out, it was watched from the beginning.
 */
export type Watched = { from?: number; time: number; happened: boolean };

/** The curve after the events of one time. `low` and `high` are null where none is left and nothing can be said. */
export type CurveStep = {
  time: number;
  atRisk: number;
  events: number;
  /** Share to whom it has not happened by the end of that time. */
  share: number;
  /** Greenwood's standard error of the share. */
  standardError: number;
  low: number | null;
  high: number | null;
};

/**
 * Whether a case was watched at all: it began before it ended.
 * @example isWatched({ from: 3, time: 3, happened: true }) // false
 */
export const isWatched = ({ from, time }: Watched): boolean => from === undefined || from < time;

/**
 * The Kaplan-Meier curve (1958, J. Am. Stat. Assoc. 53:457): one step for each time at which it happened. At risk at t are all with
 * from < t <= time; a case that began where it ended is left out. Standard error by Greenwood; the interval on the logarithm of the share,
 * exp(ln S ± z·se/S) cut at 1, as the R package survival gives by default; z = 1.96 for 95 %. No cases: no steps. With late beginnings few may be at
 * risk early, and the curve then says little after: look at `atRisk`.
 * @example kaplanMeier([{ time: 1, happened: true }, { time: 2, happened: false }])[0]?.share // 0.5
 */
export function kaplanMeier(cases: readonly Watched[], z: number = Z95): CurveStep[] {
  const sorted = cases.filter(isWatched).sort((a, b) => a.time - b.time);
  const begun = sorted.map(({ from }) => from ?? Number.NEGATIVE_INFINITY).sort((a, b) => a - b);
  const steps: CurveStep[] = [];
  let share = 1;
  let greenwood = 0;
  let entered = 0;
  for (let i = 0; i < sorted.length; ) {
    const time = sorted[i]?.time ?? 0;
    while (entered < begun.length && (begun[entered] as number) < time) entered++;
    const atRisk = entered - i;
    let events = 0;
    for (; i < sorted.length && sorted[i]?.time === time; i++) if (sorted[i]?.happened) events++;
    if (events === 0) continue;
    share *= 1 - events / atRisk;
    greenwood += events / (atRisk * (atRisk - events));
    steps.push({ time, atRisk, events, share, ...spreadOf(share, greenwood, z) });
  }
  return steps;
}

function spreadOf(share: number, greenwood: number, z: number) {
  if (share === 0) return { standardError: 0, low: null, high: null };
  const { low, high }: Interval = logInterval(share, z * Math.sqrt(greenwood));
  return { standardError: share * Math.sqrt(greenwood), low, high };
}

const logInterval = (share: number, reach: number): Interval => ({
  low: share * Math.exp(-reach),
  high: Math.min(1, share * Math.exp(reach)),
});
