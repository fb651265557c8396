/** A pedal or key: `one` where there is a single one (keyboard too), else by its place. */
export type Pedal = 'one' | 'left' | 'middle' | 'right';

/** What a pedal did, with the time in milliseconds. `lost`: the page lost the focus, the release will not be seen. */
export type PedalEvent =
  | { kind: 'down'; pedal: Pedal; at: number; repeat?: boolean }
  | { kind: 'up'; pedal: Pedal; at: number }
  | { kind: 'tick' | 'lost'; at: number };

/** What it means to the board. `rising` only sounds: the offer is near. `lapsed`: the offer is over and nothing was done. */
export type PedalMeaning = 'accept' | 'flag' | 'offer' | 'step-back' | 'rising' | 'lapsed';

/** Milliseconds of the grammar. */
export const PEDAL = {
  shortest: 60,
  press: 1200,
  rising: 1000,
  hold: 1500,
  offer: 3000,
  lockOut: 400,
} as const;

/** Where a pedal is, until when contacts are ignored, and whether stepping back is on offer. */
export type PedalState = {
  down: { pedal: Pedal; at: number; isDead: boolean; hasRisen: boolean; hasOffered: boolean } | null;
  /** Contacts up to and including this time are bounces. */
  lockedUntil: number;
  offer: { by: Pedal; until: number } | null;
};

export const restingPedal: PedalState = { down: null, lockedUntil: Number.NEGATIVE_INFINITY, offer: null };

type Meant = { pedal: PedalState; meanings: readonly PedalMeaning[] };
const nothing = (pedal: PedalState): Meant => ({ pedal, meanings: [] });

/**
 * The pedal grammar. One pedal: released before 1.2 s = accept; held for 1.5 s it only *offers* to step back, with a rising
 * tone from 1 s; a press that begins within 3 s of the offer does it, doing nothing leaves all as it was. Several pedals: left
 * offers, left again within 3 s does it, middle accepts, right flags. Contacts under 60 ms and repeats of a held key mean nothing;
 * for 400 ms after anything was taken (and after the last bounce) nothing is taken.
 * The offer runs from the moment it is made, not from the release: a foot that rests has let it lapse.
 */
export function nextPedal(state: PedalState, event: PedalEvent): Meant {
  const lapsed = state.offer !== null && state.down === null && event.at > state.offer.until;
  const current = lapsed ? { ...state, offer: null } : state;
  const { pedal, meanings } = react(current, event);
  return { pedal, meanings: lapsed ? ['lapsed', ...meanings] : meanings };
}

function react(state: PedalState, event: PedalEvent): Meant {
  switch (event.kind) {
    case 'lost':
      return nothing({ ...state, down: null });
    case 'tick':
      return held(state, event.at);
    case 'down':
      return nothing(goneDown(state, event));
    case 'up':
      return state.down === null || state.down.pedal !== event.pedal
        ? nothing(state)
        : released(held(state, event.at), event.at);
  }
}

function goneDown(state: PedalState, event: Extract<PedalEvent, { kind: 'down' }>): PedalState {
  if (event.repeat === true || state.down !== null) return state;
  const isDead = event.at <= state.lockedUntil;
  return { ...state, down: { pedal: event.pedal, at: event.at, isDead, hasRisen: false, hasOffered: false } };
}

/** What a pedal that is still down has come to mean by now. Only a single pedal is ever held. */
function held(state: PedalState, at: number): Meant {
  const { down } = state;
  if (down === null || down.isDead || down.pedal !== 'one') return nothing(state);
  const length = at - down.at;
  const meanings: PedalMeaning[] = [];
  if (length >= PEDAL.rising && length < PEDAL.hold && !down.hasRisen) meanings.push('rising');
  const isOffer = length >= PEDAL.hold && !down.hasOffered;
  if (isOffer) meanings.push('offer');
  const offer = isOffer ? { by: down.pedal, until: down.at + PEDAL.hold + PEDAL.offer } : state.offer;
  const after = { ...down, hasRisen: length >= PEDAL.rising, hasOffered: down.hasOffered || isOffer };
  return { pedal: { ...state, down: after, offer }, meanings };
}

function released({ pedal: state, meanings }: Meant, at: number): Meant {
  const { down } = state;
  if (down === null) return { pedal: state, meanings };
  const up: PedalState = { ...state, down: null };
  const locked: PedalState = { ...up, lockedUntil: at + PEDAL.lockOut };
  const length = at - down.at;
  if (down.isDead) return { pedal: locked, meanings };
  if (length < PEDAL.shortest) return { pedal: up, meanings };
  if (length > PEDAL.press) return overheld(locked, meanings, at);
  return pressed(locked, { pedal: down.pedal, downAt: down.at, upAt: at });
}

/** A hold let go: the offer it made stands, unless the foot rested until it lapsed. */
function overheld(state: PedalState, meanings: readonly PedalMeaning[], at: number): Meant {
  const isOver = state.offer !== null && at > state.offer.until;
  return isOver ? { pedal: { ...state, offer: null }, meanings: [...meanings, 'lapsed'] } : { pedal: state, meanings };
}

function pressed(state: PedalState, press: { pedal: Pedal; downAt: number; upAt: number }): Meant {
  const { offer } = state;
  const isConfirmed = offer !== null && offer.by === press.pedal && press.downAt <= offer.until;
  const settled: PedalState = { ...state, offer: null };
  if (isConfirmed) return { pedal: settled, meanings: ['step-back'] };
  if (press.pedal === 'left') {
    return { pedal: { ...settled, offer: { by: 'left', until: press.upAt + PEDAL.offer } }, meanings: ['offer'] };
  }
  return { pedal: settled, meanings: [press.pedal === 'right' ? 'flag' : 'accept'] };
}
