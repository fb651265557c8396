/** Whose result a reading is, and why it counts for her or for nobody. */
import type { Day } from '#units/calendar-day.ts';
import { coverOf } from '../living/stay.ts';
import { countsFrom, type Hers, queenOfReading, type Reign, whoseResult } from '../living/whose-result.ts';

/** What is written of a reading about whose it is. */
export type WrittenReading = {
  from: Day | null;
  day: Day;
  /** A queen named outright: a row of a table, or a person's judgement. */
  queen: string | null;
  judged: Hers | null;
};

/**
 * Why a reading counts or not: `hers` her own workers; `judged` a person said so; `turnover` before the workers were hers; `two-queens` another
 * queen's workers may have been among them; `nobody` no queen is known to have headed the colony.
 */
export type BelongingReason = 'hers' | 'judged' | 'turnover' | 'two-queens' | 'nobody';

export type Belonging = {
  /** The queen it is about: hers when `hers` is wholly, else the one who headed the colony. */
  queen: string | null;
  hers: Hers;
  why: BelongingReason;
  /** The day from which readings count for that queen; `null` when she headed the colony since before anything was written. */
  countsFrom: Day | null;
};

/** Who headed the colony on a day: of two side by side, the one who came last. */
function headOn(reigns: readonly Reign[], on: Day): Reign | null {
  const there = reigns.filter(({ stay }) => coverOf(stay, on, on) !== 'none');
  const startOf = ({ stay }: Reign) => stay.from?.latest ?? '';
  return [...there].sort((a, b) => (startOf(a) < startOf(b) ? -1 : 1)).at(-1) ?? null;
}

function judgedOne({ queen, judged, day }: WrittenReading, reigns: readonly Reign[]): Belonging {
  const head = headOn(reigns, day);
  const about = queen ?? head?.stay.queen ?? null;
  const from = head !== null && head.stay.queen === about ? countsFrom(head) : null;
  return { queen: about, hers: about === null ? 'not' : (judged ?? 'wholly'), why: 'judged', countsFrom: from };
}

function derivedOne({ from, day }: WrittenReading, reigns: readonly Reign[]): Belonging {
  const days = { from: from ?? day, to: day };
  const owner = queenOfReading(reigns, days);
  const reignOf = reigns.find(({ stay }) => stay.queen === owner);
  if (owner !== null && reignOf !== undefined)
    return { queen: owner, hers: 'wholly', why: 'hers', countsFrom: countsFrom(reignOf) };
  const head = headOn(reigns, day);
  if (head === null) return { queen: null, hers: 'not', why: 'nobody', countsFrom: null };
  const counts = countsFrom(head);
  const others = reigns.filter((one) => one !== head);
  const early = counts !== null && days.from < counts;
  return {
    queen: head.stay.queen,
    hers: whoseResult(head, others, days),
    why: early ? 'turnover' : 'two-queens',
    countsFrom: counts,
  };
}

/**
 * Whose a reading is. A person's judgement stands; else it is the queen's whose workers made up the colony on all its days: from about 40 days
 * after her laying began (Büchler and others 2013, J. Apic. Res. 52(1) § 3.1.4) to 40 days after her end.
 * @param reigns all reigns of queens at the head of that colony; empty for a reading without a colony
 */
export function belongingOf(written: WrittenReading, reigns: readonly Reign[]): Belonging {
  if (written.judged !== null) return judgedOne(written, reigns);
  if (reigns.length === 0 && written.queen !== null)
    return { queen: written.queen, hers: 'wholly', why: 'hers', countsFrom: null };
  return derivedOne(written, reigns);
}
