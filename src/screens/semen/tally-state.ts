import { microlitresPerMillimetre } from '#domain/laboratory/bore.ts';
import type { NoSemenReason } from '#domain/semen/tally.ts';
import type { RecordId } from '#units/record-id.ts';
import { millimetres } from '#units/volume.ts';

/** Whose drones: a mother, the colony they came from, or a group of sisters. */
export type TallySource = {
  kind: 'mother' | 'colony' | 'sister_group';
  id: string | null;
  share: number | null;
  toldApart: string;
};

/** A tube that is collected into, with its readings; in mm where its bore is known and a ruler is used. */
export type TallyTube = {
  tube: string | null;
  code: string;
  bore: number | null;
  slot: string;
  start: number | null;
  end: number | null;
  unit: 'µl' | 'mm';
  gave: number;
  source: number | null;
};

/** A catch as it is tallied: kept on the device at every press. */
export type TallyState = {
  sources: TallySource[];
  taken: number | null;
  leftOver: number | null;
  strangers: number | null;
  ageFrom: number | null;
  ageTo: number | null;
  reasons: Partial<Record<NoSemenReason, number>>;
  /** The tube faeces got into, by its place. */
  soiled: number | null;
  tubes: TallyTube[];
  /** The tube that is filled now. */
  open: number;
};

export const newTallyTube = (): TallyTube => ({
  tube: null,
  code: '',
  bore: null,
  slot: '',
  start: 0,
  end: null,
  unit: 'µl',
  gave: 0,
  source: null,
});

export const newTally = (): TallyState => ({
  sources: [{ kind: 'mother', id: null, share: null, toldApart: '' }],
  taken: null,
  leftOver: null,
  strangers: null,
  ageFrom: null,
  ageTo: null,
  reasons: {},
  soiled: null,
  tubes: [newTallyTube()],
  open: 0,
});

const NAME = 'combwright.tally';

/** The tally as it was left, also after the browser was killed. */
export function keptTally(): TallyState {
  const kept = localStorage.getItem(NAME);
  return kept === null ? newTally() : { ...newTally(), ...(JSON.parse(kept) as Partial<TallyState>) };
}

export function keepTally(state: TallyState | null): void {
  if (state === null) localStorage.removeItem(NAME);
  else localStorage.setItem(NAME, JSON.stringify(state));
}

/** Drones that gave, over all tubes. */
export const gaveIn = ({ tubes }: TallyState): number => tubes.reduce((sum, { gave }) => sum + gave, 0);

/** One more (or less) drone gave into the open tube. */
export function pressed(state: TallyState, by: 1 | -1): TallyState {
  const tubes = state.tubes.map((tube, i) =>
    i === state.open ? { ...tube, gave: Math.max(0, tube.gave + by) } : tube,
  );
  return { ...state, tubes };
}

/** A reason for a drone that gave nothing; faeces soil the open tube. */
export function withReason(state: TallyState, reason: NoSemenReason): TallyState {
  const reasons = { ...state.reasons, [reason]: (state.reasons[reason] ?? 0) + 1 };
  return { ...state, reasons, soiled: reason === 'faeces' ? state.open : state.soiled };
}

const inMicrolitres = (read: number, { unit, bore }: TallyTube): number =>
  unit === 'mm' && bore !== null ? read * microlitresPerMillimetre(millimetres(bore)) : read;

/** µl collected into a tube so far; null until both readings are there. */
export function collectedIn(tube: TallyTube): number | null {
  if (tube.start === null || tube.end === null) return null;
  return inMicrolitres(tube.end, tube) - inMicrolitres(tube.start, tube);
}

type Known<T> = { [K in keyof T]: T[K] };
const known = <T extends object>(record: T): Known<Partial<T>> =>
  Object.fromEntries(
    Object.entries(record).filter(([, value]) => value !== null && value !== undefined && value !== ''),
  ) as Partial<T>;

function tubeInput(tube: TallyTube) {
  const { start, end, gave, source, code, bore, slot, unit } = tube;
  const named =
    tube.tube === null
      ? { new: known({ code: code.trim(), bore_mm: bore, slot: slot.trim() }) }
      : { tube: tube.tube as RecordId };
  return {
    ...named,
    start: inMicrolitres(start ?? 0, tube),
    end: inMicrolitres(end ?? start ?? 0, tube),
    drones: gave,
    ...known({ source }),
    read_how: unit === 'mm' ? ('bore' as const) : ('scale' as const),
  };
}

/** The tally as the input of `tally-drones`. Tubes nothing was said about are left out. */
export function tallyInput(state: TallyState, bench_day: string | null) {
  const used = state.tubes.filter(
    ({ tube, code, end, gave }) => tube !== null || code.trim() !== '' || end !== null || gave > 0,
  );
  const soiled = state.soiled === null ? -1 : used.indexOf(state.tubes[state.soiled] as TallyTube);
  const reasons = Object.entries(state.reasons).map(([reason, count]) => ({
    reason: reason as NoSemenReason,
    count,
    ...(reason === 'faeces' && soiled >= 0 ? { into: soiled } : {}),
  }));
  return {
    ...known({
      bench_day: bench_day as RecordId | null,
      taken: state.taken,
      left_over: state.leftOver,
      age_from: state.ageFrom,
      age_to: state.ageTo,
      stranger_share: state.strangers === null ? null : state.strangers / 100,
    }),
    gave: gaveIn(state),
    sources: state.sources
      .filter(({ id }) => id !== null)
      .map(({ kind, id, share, toldApart }) => ({
        [kind]: id as RecordId,
        ...known({ share: share === null ? null : share / 100, told_apart: toldApart.trim() }),
      })),
    reasons,
    into: used.map(tubeInput),
  };
}
