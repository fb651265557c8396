/** Cases watched over time, as columns: one entry a case. */
export type WatchedTable = {
  /** Watching began after this time (left truncation); left out: from the beginning. Cases with from >= time are passed over. */
  from?: Float64Array;
  time: Float64Array;
  /** 1: it happened at `time`; 0: watching ended. */
  happened: Uint8Array;
  /** Any whole number; cases are compared only within one. Left out: all in one. */
  stratum?: Int32Array;
};

/** How cases that share an event time are treated. */
export type Ties = 'breslow' | 'efron';

/** What the events of one time say at some coefficients b. */
export type EventTime = {
  time: number;
  events: number;
  /** Contribution to the log partial likelihood. */
  logLikelihood: number;
  /** Contribution to the score, `columns` numbers: what was seen less what was expected (the Schoenfeld residuals of that time, summed). */
  score: Float64Array;
  /** Contribution to the information, `columns × columns`: the variance of the features over those at risk, weighted by risk. */
  information: Float64Array;
};

/** Weighted sums over a set of cases: Σw, Σwx, Σwxx' (full square). */
type RiskSums = { whole: number; first: Float64Array; second: Float64Array };

const noSums = (p: number): RiskSums => ({ whole: 0, first: new Float64Array(p), second: new Float64Array(p * p) });

type Weighed = { values: Float64Array; columns: number; weight: Float64Array };

function addCase(sums: RiskSums, i: number, { values, columns: p, weight }: Weighed, sign: number): void {
  const w = sign * (weight[i] as number);
  sums.whole += w;
  for (let a = 0; a < p; a++) {
    const wx = w * (values[i * p + a] as number);
    sums.first[a] = (sums.first[a] as number) + wx;
    for (let b = 0; b <= a; b++) {
      const at = a * p + b;
      sums.second[at] = (sums.second[at] as number) + wx * (values[i * p + b] as number);
    }
  }
}

/**
 * Subtracts log, mean and variance of one risk set, with the share `less` of the tied cases taken off (Efron; 0 in Breslow's form), from what the
 * events say; `times` events have this set.
 */
function subtractSet(into: EventTime, at: RiskSums, tied: RiskSums, { less, times }: { less: number; times: number }) {
  const p = into.score.length;
  const whole = at.whole - less * tied.whole;
  into.logLikelihood -= times * Math.log(whole);
  const mean = (a: number) => ((at.first[a] as number) - less * (tied.first[a] as number)) / whole;
  for (let a = 0; a < p; a++) {
    into.score[a] = (into.score[a] as number) - times * mean(a);
    for (let b = 0; b <= a; b++) {
      const second = (at.second[a * p + b] as number) - less * (tied.second[a * p + b] as number);
      const variance = times * (second / whole - mean(a) * mean(b));
      into.information[a * p + b] = (into.information[a * p + b] as number) + variance;
      if (a !== b) into.information[b * p + a] = (into.information[b * p + a] as number) + variance;
    }
  }
}

/** All that the events of one time say. */
function eventTime(time: number, events: readonly number[], at: RiskSums, given: Weighed & { ties: Ties }): EventTime {
  const p = given.columns;
  const into: EventTime = {
    time,
    events: events.length,
    logLikelihood: 0,
    score: new Float64Array(p),
    information: new Float64Array(p * p),
  };
  const tied = noSums(p);
  for (const i of events) {
    addCase(tied, i, given, 1);
    into.logLikelihood += Math.log(given.weight[i] as number);
    for (let a = 0; a < p; a++) into.score[a] = (into.score[a] as number) + (given.values[i * p + a] as number);
  }
  const d = events.length;
  if (given.ties === 'breslow' || d === 1) subtractSet(into, at, tied, { less: 0, times: d });
  else for (let l = 0; l < d; l++) subtractSet(into, at, tied, { less: l / d, times: 1 });
  return into;
}

/**
 * Cases that are watched at all, stratum by stratum.
 * @example strataOf({ time: Float64Array.of(5, 6, 7), happened: Uint8Array.of(1, 1, 0), stratum: Int32Array.of(0, 1, 0) }) // [[0, 2], [1]]
 */
export function strataOf({ from, time, stratum }: WatchedTable): number[][] {
  const strata = new Map<number, number[]>();
  for (let i = 0; i < time.length; i++) {
    if (from !== undefined && !((from[i] as number) < (time[i] as number))) continue;
    const key = stratum?.[i] ?? 0;
    const before = strata.get(key);
    if (before === undefined) strata.set(key, [i]);
    else before.push(i);
  }
  return [...strata.values()];
}

/**
 * Walks the event times of one stratum from the last to the first, keeping the sums over those at risk (from < t <= time), and tells each to `hear`.
 * Time: cases × columns², and again so much for each tied event in Efron's form (1977, J Am Stat Assoc 72:557); Breslow's form is that of 1974
 * (Biometrics 30:89).
 * In the example two are at risk at time 1 and one at time 2, all risks alike.
 * @param cases places of the stratum's cases in the table
 * @param given scaled features and exp(x'b) of every case
 * @example const [table, told] = [{ time: Float64Array.of(1, 2), happened: Uint8Array.of(1, 1) }, []];
 * const given = { values: Float64Array.of(1, -1), columns: 1, weight: Float64Array.of(1, 1), ties: 'efron' };
 * sweep(table, [0, 1], given, ({ time, logLikelihood }) => told.push([time, logLikelihood])); told // [[2, 0], [1, -Math.log(2)]]
 */
export function sweep(
  table: WatchedTable,
  cases: readonly number[],
  given: Weighed & { ties: Ties },
  hear: (one: EventTime) => void,
): void {
  const { time, happened } = table;
  const began = (i: number) => table.from?.[i] ?? Number.NEGATIVE_INFINITY;
  const byTime = [...cases].sort((a, b) => (time[b] as number) - (time[a] as number));
  const byFrom = [...cases].sort((a, b) => began(b) - began(a));
  let at = noSums(given.columns);
  let inside = 0;
  let gone = 0;
  for (let i = 0; i < byTime.length; ) {
    const now = time[byTime[i] as number] as number;
    const events: number[] = [];
    for (; i < byTime.length && time[byTime[i] as number] === now; i++) {
      const one = byTime[i] as number;
      addCase(at, one, given, 1);
      inside++;
      if (happened[one] === 1) events.push(one);
    }
    for (; gone < byFrom.length && began(byFrom[gone] as number) >= now; gone++) {
      addCase(at, byFrom[gone] as number, given, -1);
      inside--;
      // Nobody left: begin again, so that no rounding is carried along.
      if (inside === 0) at = noSums(given.columns);
    }
    if (events.length > 0) hear(eventTime(now, events, at, given));
  }
}
