import type { Figure } from './figure.ts';
import type { BiologyProfile } from './profile.ts';

/** What moves development from its middle: older larvae, a cooler or warmer nest. Left out, nothing is moved. */
export type Conditions = {
  /** Hours since the grafted larvae hatched; 12-24 is usual. */
  larvalAgeHours?: number;
  /** °C at which queen cells and drone brood are kept; 34.5 is the middle of a brood nest. */
  temperature?: number;
  /** Share of the brood time spent at that temperature: 1 in a nest, about 0.2 in an incubator for the last days. */
  shareOfTime?: number;
};

/** Larvae up to a day old emerge on time. */
const USUAL_HOURS = 24;
const USUAL_TEMPERATURE = 34.5;
/** A day longer for every 1.25 °C cooler: rule of thumb between 1 and 1.5 °C, from memory of Milum 1930 and DeGrandi-Hoffman et al. 1993. */
const DEGREES_A_DAY = 1.25;
const RULE = 'rule of thumb, from memory (Milum 1930; DeGrandi-Hoffman et al. 1993): a day for every 1 to 1.5 °C';
const OLD_LARVAE = 'beekeeping practice: larvae of 48-60 hours emerged up to a day and a half early';

/** Development times outside of this are no life. */
const MOST_DAYS = 3;

function moved(figure: Figure, days: number, doubt: number, source: string): Figure {
  if (days === 0) return figure;
  const whole = Math.round(figure.value + days);
  return {
    value: whole,
    low: Math.min(whole, Math.floor(figure.low + days - doubt)),
    high: Math.max(whole, Math.ceil(figure.high + days + doubt)),
    basis: 'from memory',
    source: `${figure.source}; ${source}`,
  };
}

/** Days a nest of that temperature adds (cooler) or takes (warmer), at most three either way. */
export function temperatureShift({ temperature = USUAL_TEMPERATURE, shareOfTime = 1 }: Conditions): number {
  const days = ((USUAL_TEMPERATURE - temperature) / DEGREES_A_DAY) * shareOfTime;
  return Math.max(-MOST_DAYS, Math.min(MOST_DAYS, days));
}

/** Days by which older larvae emerge earlier: as many as they were older than a day. */
export const larvalAgeShift = ({ larvalAgeHours = USUAL_HOURS }: Conditions): number =>
  -Math.max(0, (larvalAgeHours - USUAL_HOURS) / 24);

/**
 * A profile under conditions: queens and drones emerge earlier or later by whole days, and with more doubt. The earliest emergence moves with it, so that the
 * guard against a first virgin among her sisters' cells holds. A profile without conditions comes back as it is.
 */
export function underConditions(profile: BiologyProfile, conditions: Conditions): BiologyProfile {
  const warmth = temperatureShift(conditions);
  const older = larvalAgeShift(conditions);
  if (warmth === 0 && older === 0) return profile;
  const doubt = Math.abs(warmth) > 0 ? 0.5 : 0;
  const { timings } = profile;
  const said = [older === 0 ? '' : OLD_LARVAE, warmth === 0 ? '' : RULE].filter((text) => text !== '').join('; ');
  const graftToEmergence = moved(timings.graftToEmergence, warmth + older, doubt, said);
  const shift = graftToEmergence.value - timings.graftToEmergence.value;
  return {
    ...profile,
    timings: {
      ...timings,
      graftToEmergence,
      graftToRipe: { ...timings.graftToRipe, ...ripe(timings.graftToRipe, shift) },
      droneEggToEmergence: moved(timings.droneEggToEmergence, warmth, doubt, RULE),
    },
  };
}

/** Cells are taken out as many days before emergence as ever. */
const ripe = ({ value, low, high }: Figure, shift: number) => ({
  value: value + shift,
  low: low + shift,
  high: high + shift,
});
