import { doubt, type Problem } from '#units/problem.ts';

/** A dose as recorded, for doubts that need more than the board knew. Times in milliseconds since 1970. */
export type RecordedDose = {
  at: number;
  microlitres: number;
  /** When the record reached the store, by its own clock. */
  receivedAt: number;
  /** When the oldest semen of the dose was taken from drones; null when unknown. */
  semenSince: number | null;
  /** When the queen emerged (start of that day), null when unknown. */
  emergedAt: number | null;
};

export type RecordedDoseDoubt =
  | 'moment-in-future'
  | 'dose-before-its-semen'
  | 'dose-before-she-emerged'
  | 'dose-of-nothing';

/** A clock may be this far ahead before it is doubted (the offset of a device is corrected first). */
export const CLOCK_TOLERANCE_MS = 120_000;

/**
 * What can be doubted of a dose that has been given: a moment in the future (a fast clock), semen collected after it was
 * used, a queen who had not emerged, no volume at all. It is recorded all the same and stands as a worry.
 */
export function doubtsOfDose(dose: RecordedDose): Problem<RecordedDoseDoubt>[] {
  const problems: Problem<RecordedDoseDoubt>[] = [];
  const ahead = dose.at - dose.receivedAt;
  if (ahead > CLOCK_TOLERANCE_MS)
    problems.push(doubt('moment', 'moment-in-future', { minutes: Math.round(ahead / 60_000) }));
  if (dose.semenSince !== null && dose.semenSince > dose.at) problems.push(doubt('draws', 'dose-before-its-semen'));
  if (dose.emergedAt !== null && dose.emergedAt > dose.at) problems.push(doubt('queen', 'dose-before-she-emerged'));
  if (!(dose.microlitres > 0)) problems.push(doubt('draws', 'dose-of-nothing', { found: dose.microlitres }));
  return problems;
}
