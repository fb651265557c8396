import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { Standing, StandingBar, StandingCombs, StandingQueens } from '#domain/rearing/season/standing.ts';
import { addDays, type Day, earlierOf } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { type SeasonBook, type SeasonCross, wishesOf } from './season.ts';
import type { SeasonBar } from './season-bars.ts';
import type { SeasonComb } from './season-combs.ts';

/** Bars and combs of the book and of the plan. */
type Raised = { bars: readonly SeasonBar[]; combs: readonly SeasonComb[] };

/** Still only planned, and only for crosses that are planned again: it is moved or given up with them. */
const isPlannedAgain = (
  one: { uses: ReadonlyMap<RecordId, number> },
  isBegun: boolean,
  again: ReadonlySet<RecordId>,
): boolean => !isBegun && one.uses.size > 0 && [...one.uses.keys()].every((cross) => again.has(cross));

const timesOf = (profile: BiologyProfile | undefined) => (profile === undefined ? {} : { profile });

function standingBar({ dam, planned, graft, state, accepted, uses }: SeasonBar): StandingBar {
  const larvae = state.count.after === 'grafted' ? state.count.left : (planned?.larvae ?? accepted ?? state.count.left);
  const queens = [...uses.values()].reduce((sum, one) => sum + one, 0);
  const day = graft?.day ?? state.grafted;
  return { dam, day, larvae, accepted, queens, ...timesOf(state.profile) };
}

function standingCombs({ mothers, planned, comb, late, lot, combs }: SeasonComb, usual: BiologyProfile): StandingCombs {
  const { timings } = lot.profile ?? usual;
  const [lead, brood] = [timings.combLead.value, timings.droneEggToEmergence.value];
  const laid = 'laidFrom' in lot ? lot.laidFrom : (comb?.laid_from ?? addDays(lot.emergedFrom, -brood));
  const day = comb?.in_on ?? (late ? null : planned?.in_on) ?? addDays(laid, -lead);
  return { mothers, day, combs, ...timesOf(lot.profile) };
}

const serves = (one: { uses: ReadonlyMap<RecordId, number> }, { row }: SeasonCross) => one.uses.has(row.id);

/** Both sides of a cross counted back by itself, as far as nothing is written down or planned of them yet. */
function countedBack(cross: SeasonCross, on: Day, { bars, combs }: Raised) {
  const { row, sources, profile, own } = cross;
  const its = timesOf(own ? profile : undefined);
  const { timings, usual } = profile;
  const graft = addDays(on, -(row.queen_age ?? usual.queenAge) - timings.graftToEmergence.value);
  const oldest = row.drone_age_to ?? usual.droneAge.to;
  const hung = addDays(on, -oldest - timings.droneEggToEmergence.value - timings.combLead.value);
  const isBar = (dam: string) =>
    bars.some((bar) => bar.dam === dam && (serves(bar, cross) || (bar.uses.size === 0 && bar.state.grafted === graft)));
  const isComb = (mother: RecordId) =>
    combs.some((comb) => comb.mothers.includes(mother) && (serves(comb, cross) || comb.uses.size === 0));
  const semen = row.queens_wanted * row.dose_ul * (row.doses ?? 1);
  return {
    bars: wishesOf(cross)
      .filter(({ dam }) => !isBar(dam))
      .map(({ dam, queens }): StandingBar => ({ dam, day: graft, larvae: null, accepted: null, queens, ...its })),
    combs: sources
      .filter(({ id }) => !isComb(id))
      .map(({ id, share }): StandingCombs => {
        const wanted = { microlitres: semen * share, on };
        return { mothers: [id], day: hung, combs: null, semen: wanted, ...its };
      }),
  };
}

/** Queens of a cross that is left alone: those done on their days, those still to come on its day; nucs from the day they are out. */
function standingQueens(
  cross: SeasonCross,
  { done }: SeasonBook,
  { bars, today }: Raised & { today: Day },
): StandingQueens[] {
  const { row, state, profile } = cross;
  const did = done.filter((one) => one.cross === row.id);
  const there = did.map(({ on, queens, alive }) => ({ on, queens, nucs: alive, nucsFrom: on }));
  const left = row.queens_wanted - did.reduce((sum, { queens }) => sum + queens, 0);
  const isOver = state === 'done' && (row.inseminate_on ?? today) < today;
  if (row.inseminate_on === null || isOver || left <= 0) return there;
  const out = bars
    .filter((bar) => serves(bar, cross))
    .map((bar) => bar.state.emerged ?? addDays(bar.state.grafted, profile.timings.graftToEmergence.value));
  const usual = addDays(row.inseminate_on, -(row.queen_age ?? profile.usual.queenAge));
  const nucsFrom = out.reduce((a, b) => earlierOf(a, b), out[0] ?? usual);
  const nucs = left / profile.survivals.readyQueens.value;
  return [...there, { on: row.inseminate_on, queens: left, nucs, nucsFrom }];
}

/**
 * What stands already beside the crosses that are planned again: bars and combs of the book, those planned for others, what others still have to raise by their
 * own count, and the queens and nucs of all of them. Whatever is planned for the crosses `again` alone and has not begun is not among it.
 */
export function standingBeside(
  book: SeasonBook,
  raised: Raised & { today: Day },
  again: ReadonlySet<RecordId>,
): Standing {
  const others = book.crosses.filter(({ row, state }) => state !== 'given-up' && !again.has(row.id));
  const coming = others.flatMap((cross) => {
    const { inseminate_on: on } = cross.row;
    return on === null || cross.state === 'done' ? [] : [countedBack(cross, on, raised)];
  });
  return {
    bars: [
      ...raised.bars.filter((bar) => !isPlannedAgain(bar, bar.graft !== null, again)).map(standingBar),
      ...coming.flatMap(({ bars }) => bars),
    ],
    combs: [
      ...raised.combs
        .filter((comb) => !isPlannedAgain(comb, comb.comb !== null, again))
        .map((comb) => standingCombs(comb, book.profile)),
      ...coming.flatMap(({ combs }) => combs),
    ],
    queens: others.flatMap((cross) => standingQueens(cross, book, raised)),
  };
}
