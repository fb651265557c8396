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
  /** Drones whose faeces got into it: they condemn it. */
  soiled: number;
  /** The end it is filled by. */
  by: 'filled' | 'other';
  source: number | null;
};

/** Why a drone gave nothing, told of the catch; faeces are told of the tube they got into. */
export type CatchReason = Exclude<NoSemenReason, 'faeces'>;
export const catchReasons = ['mucus', 'bubble', 'immature', 'other'] as const satisfies readonly CatchReason[];

/** One press while counting: a drone that gave, or the reason of one that did not, and the tube that was open. */
export type Pressed = { what: 'gave' | NoSemenReason; tube: number };

/** A catch as it is tallied: kept on the device at every press. */
export type TallyState = {
  sources: TallySource[];
  taken: number | null;
  leftOver: number | null;
  strangers: number | null;
  ageFrom: number | null;
  ageTo: number | null;
  reasons: Partial<Record<CatchReason, number>>;
  /** What was pressed, the last one at the end: it can be taken back. */
  log: Pressed[];
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
  soiled: 0,
  by: 'filled',
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
  log: [],
  tubes: [newTallyTube()],
  open: 0,
});

const NAME = 'combwright.tally';

/** The tally as it was left, also after the browser was killed. */
export function keptTally(): TallyState {
  const text = localStorage.getItem(NAME);
  if (text === null) return newTally();
  const kept = { ...newTally(), ...(JSON.parse(text) as Partial<TallyState>) };
  return { ...kept, tubes: kept.tubes.map((tube) => ({ ...newTallyTube(), ...tube })) };
}

export function keepTally(state: TallyState | null): void {
  if (state === null) localStorage.removeItem(NAME);
  else localStorage.setItem(NAME, JSON.stringify(state));
}

/** Drones that gave, over all tubes. */
export const gaveIn = ({ tubes }: TallyState): number => tubes.reduce((sum, { gave }) => sum + gave, 0);

/** Presses that can be taken back. */
const MOST_PRESSES = 500;

const withTube = (state: TallyState, at: number, change: (tube: TallyTube) => TallyTube): TallyState => ({
  ...state,
  tubes: state.tubes.map((tube, i) => (i === at ? change(tube) : tube)),
});

/** So many more (or less) of what was pressed; faeces are the tube's. */
function counted(state: TallyState, { what, tube: at }: Pressed, by: 1 | -1): TallyState {
  const plus = (n: number) => Math.max(0, n + by);
  if (what === 'gave') return withTube(state, at, (tube) => ({ ...tube, gave: plus(tube.gave) }));
  if (what === 'faeces') return withTube(state, at, (tube) => ({ ...tube, soiled: plus(tube.soiled) }));
  return { ...state, reasons: { ...state.reasons, [what]: plus(state.reasons[what] ?? 0) } };
}

/** A press at the open tube: a drone gave, or why it did not. */
export function pressed(state: TallyState, what: Pressed['what']): TallyState {
  const press: Pressed = { what, tube: state.open };
  return { ...counted(state, press, 1), log: [...state.log, press].slice(-MOST_PRESSES) };
}

/** The last press taken back, whatever it was; nothing where none is left. */
export function takenBack(state: TallyState): TallyState {
  const last = state.log.at(-1);
  return last === undefined ? state : { ...counted(state, last, -1), log: state.log.slice(0, -1) };
}

/** Drones whose faeces got into a tube, over all tubes. */
export const soiledIn = ({ tubes }: TallyState): number => tubes.reduce((sum, { soiled }) => sum + soiled, 0);

/** True while nothing was typed or counted. */
export const isUntouched = (state: TallyState): boolean => JSON.stringify(state) === JSON.stringify(newTally());

const inMicrolitres = (read: number, { unit, bore }: TallyTube): number =>
  unit === 'mm' && bore !== null ? read * microlitresPerMillimetre(millimetres(bore)) : read;

const hundredth = (n: number) => Math.round(n * 100) / 100;

/** The same readings in the other unit: what stands there must not come to mean another volume. */
export function readIn(tube: TallyTube, unit: TallyTube['unit']): TallyTube {
  if (unit === tube.unit || tube.bore === null) return { ...tube, unit: tube.bore === null ? 'µl' : unit };
  const perMillimetre = microlitresPerMillimetre(millimetres(tube.bore));
  const turned = (read: number | null) =>
    read === null ? null : hundredth(unit === 'mm' ? read / perMillimetre : read * perMillimetre);
  return { ...tube, unit, start: turned(tube.start), end: turned(tube.end) };
}

/** A bore typed or emptied; without one there are only microlitres. */
export const withBore = (tube: TallyTube, bore: number | null): TallyTube => ({
  ...(bore === null || bore <= 0 ? readIn(tube, 'µl') : tube),
  bore,
});

/** Another tube of the rack (or none): its bore is known, and its reading before is what the book says, in µl. */
export const withHeld = (
  tube: TallyTube,
  held: { id: string; bore: number | null; left: number } | null,
): TallyTube => ({
  ...tube,
  tube: held?.id ?? null,
  bore: held?.bore ?? tube.bore,
  unit: held === null ? tube.unit : 'µl',
  start: held === null ? tube.start : Math.max(0, hundredth(held.left)),
});

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
  const { start, end, gave, source, code, bore, slot, unit, by } = tube;
  const named =
    tube.tube === null
      ? { new: known({ code: code.trim(), bore_mm: bore, slot: slot.trim() }) }
      : { tube: tube.tube as RecordId };
  return {
    ...named,
    start: inMicrolitres(start ?? 0, tube),
    drones: gave,
    ...known({ source, end: end === null ? null : inMicrolitres(end, tube), by_end: by === 'other' ? by : null }),
    read_how: unit === 'mm' ? ('bore' as const) : ('scale' as const),
  };
}

/** Reasons of the catch, and the faeces in each tube that was soiled. */
function reasonsInput({ reasons }: TallyState, used: readonly TallyTube[]) {
  const told = catchReasons.flatMap((reason) => {
    const count = reasons[reason] ?? 0;
    return count > 0 ? [{ reason, count }] : [];
  });
  const faeces = used.flatMap(({ soiled }, into) =>
    soiled > 0 ? [{ reason: 'faeces' as const, count: soiled, into }] : [],
  );
  return [...told, ...faeces];
}

/** The tally as the input of `tally-drones`. Tubes nothing was said about are left out. */
export function tallyInput(state: TallyState, bench_day: string | null) {
  const used = state.tubes.filter(
    ({ tube, code, end, gave, soiled }) =>
      tube !== null || code.trim() !== '' || end !== null || gave > 0 || soiled > 0,
  );
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
    reasons: reasonsInput(state, used),
    into: used.map(tubeInput),
  };
}
