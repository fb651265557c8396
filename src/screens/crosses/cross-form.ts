import { underConditions } from '#domain/rearing/conditions.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import { refusalsOf, type Wish } from '#domain/rearing/wish.ts';
import type { CrossLeaf } from '#questions/crosses/cross-leaf.ts';
import type { ProfileChoices } from '#questions/rearing/profile-choices.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';

export type SourceKind = 'queen' | 'sister_group' | 'line';

/** One part of the drone side as it is typed: what is chosen (`kind id`), and its share in per cent. */
export type TypedSource = { chosen: string | null; percent: number | null };

/** A plan as it is typed. */
export type CrossDraft = {
  code: string;
  purpose: string;
  dams: string[];
  sources: TypedSource[];
  queens_wanted: number | null;
  dose_ul: number | null;
  doses: '1' | '2';
  drones: number | null;
  inseminate_on: Day | null;
  latest_on: Day | null;
  queen_age: number | null;
  drone_age_from: number | null;
  drone_age_to: number | null;
  hold_days: number | null;
  /** Name of the set of times; empty = the usual one. */
  profile: string;
  larva_age_hours: number | null;
  brood_celsius: number | null;
  standInQueens: string[];
  standInDrones: string[];
  drones_there: boolean;
  virgins_there: boolean;
};

export const NEW_CROSS = 'new-cross';

/** An empty plan: 12 queens at 8 µl, the usual times. */
export const emptyCross: CrossDraft = {
  code: '',
  purpose: '',
  dams: [],
  sources: [{ chosen: null, percent: null }],
  queens_wanted: 12,
  dose_ul: 8,
  doses: '1',
  drones: null,
  inseminate_on: null,
  latest_on: null,
  queen_age: null,
  drone_age_from: null,
  drone_age_to: null,
  hold_days: null,
  profile: '',
  larva_age_hours: null,
  brood_celsius: null,
  standInQueens: [],
  standInDrones: [],
  drones_there: false,
  virgins_there: false,
};

/** `queen 0196…` as the field and the id it stands for. */
export function chosenSource(chosen: string): { [K in SourceKind]?: RecordId } {
  const [kind = 'queen', id = ''] = chosen.split(' ');
  return { [kind]: id as RecordId };
}

/** The drone side as actions and questions take it; rows nobody was chosen in are left out. */
export const sourcesTyped = (sources: readonly TypedSource[]) =>
  sources.flatMap(({ chosen, percent }) =>
    chosen === null ? [] : [{ ...chosenSource(chosen), share: percent === null ? null : percent / 100 }],
  );

const known = <T>(value: T | null): { value: T } | null => (value === null ? null : { value });

/** The fields of the cross as the action takes them. */
export const crossTyped = (draft: CrossDraft) => ({
  code: draft.code,
  purpose: draft.purpose.trim() === '' ? null : draft.purpose,
  queens_wanted: draft.queens_wanted ?? 0,
  dose_ul: draft.dose_ul ?? 0,
  doses: Number(draft.doses),
  drones: draft.drones,
  inseminate_on: draft.inseminate_on,
  latest_on: draft.latest_on,
  queen_age: draft.queen_age,
  drone_age_from: draft.drone_age_from,
  drone_age_to: draft.drone_age_to,
  hold_days: draft.hold_days,
  profile: draft.profile === '' ? null : draft.profile,
  larva_age_hours: draft.larva_age_hours,
  brood_celsius: draft.brood_celsius,
});

/** The whole plan as the action takes it. */
export const planTyped = (draft: CrossDraft) => ({
  cross: crossTyped(draft),
  dams: draft.dams as RecordId[],
  drone_sources: sourcesTyped(draft.sources),
  stand_ins: [
    ...draft.standInQueens.map((queen) => ({ queen: queen as RecordId, side: 'queen' as const })),
    ...draft.standInDrones.map((queen) => ({ queen: queen as RecordId, side: 'drone' as const })),
  ],
  drones_there: draft.drones_there,
  virgins_there: draft.virgins_there,
});

/** The sets of times a plan can be counted with, and the one that holds where none is named. */
export type ProfileChoice = Pick<ProfileChoices, 'profiles' | 'usual'>;

/** The times a plan is counted with: its set, moved by the conditions of the set and its own. */
export function profileTyped(draft: CrossDraft, choices: ProfileChoice | undefined): BiologyProfile {
  const named = (name: string) => choices?.profiles.find(({ profile }) => profile.name === name);
  const { profile, conditions } = named(draft.profile) ??
    named(choices?.usual ?? '') ?? { profile: standardText, conditions: {} };
  return underConditions(profile, {
    ...conditions,
    ...(draft.larva_age_hours === null ? {} : { larvalAgeHours: draft.larva_age_hours }),
    ...(draft.brood_celsius === null ? {} : { temperature: draft.brood_celsius }),
  });
}

/** The wish a plan is counted back from, as soon as it can be; `null` until then. */
export function wishTyped(draft: CrossDraft, choices: ProfileChoice | undefined): Wish | null {
  const profile = profileTyped(draft, choices);
  if (draft.inseminate_on === null || draft.queens_wanted === null) return null;
  const { from, to } = profile.usual.droneAge;
  const wish: Wish = {
    inseminate: draft.inseminate_on,
    queens: draft.queens_wanted,
    profile,
    doses: draft.doses === '2' ? 2 : 1,
    queenAge: known(draft.queen_age)?.value ?? profile.usual.queenAge,
    droneAge: { from: draft.drone_age_from ?? from, to: draft.drone_age_to ?? to },
    holdDays: known(draft.hold_days)?.value ?? profile.usual.holdDays,
  };
  return refusalsOf(wish).length === 0 ? wish : null;
}

/** A cross of the book as it would be typed. */
export function draftOf({ cross, sides }: CrossLeaf): CrossDraft {
  return {
    code: cross.code,
    purpose: cross.purpose ?? '',
    dams: sides.dams.map(({ face }) => face.id),
    sources: sides.drones.map(({ queen, group, line, share }) => ({
      chosen:
        queen !== null
          ? `queen ${queen.face.id}`
          : group !== null
            ? `sister_group ${group.id}`
            : line === null
              ? null
              : `line ${line.id}`,
      percent: share === null ? null : Math.round(share * 1_000) / 10,
    })),
    queens_wanted: cross.queens_wanted,
    dose_ul: cross.dose_ul,
    doses: cross.doses === 2 ? '2' : '1',
    drones: cross.drones,
    inseminate_on: cross.inseminate_on,
    latest_on: cross.latest_on,
    queen_age: cross.queen_age,
    drone_age_from: cross.drone_age_from,
    drone_age_to: cross.drone_age_to,
    hold_days: cross.hold_days,
    profile: cross.profile ?? '',
    larva_age_hours: cross.larva_age_hours,
    brood_celsius: cross.brood_celsius,
    standInQueens: sides.standIns.filter(({ side }) => side === 'queen').map(({ face }) => face.id),
    standInDrones: sides.standIns.filter(({ side }) => side === 'drone').map(({ face }) => face.id),
    drones_there: false,
    virgins_there: false,
  };
}

/** Puts something into the draft of a new cross before its form is opened. */
export function startDraft(some: Partial<CrossDraft>): void {
  sessionStorage.setItem(`combwright.draft.${NEW_CROSS}`, JSON.stringify({ ...emptyCross, ...some }));
}

/** The first letter, or then a number, no cross bears. */
export function freeCode(taken: readonly string[]): string {
  const letter = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].find((each) => !taken.includes(each));
  if (letter !== undefined) return letter;
  let n = 1;
  while (taken.includes(`X${n}`)) n++;
  return `X${n}`;
}
