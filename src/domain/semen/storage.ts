import { type Problem, warn } from '#units/problem.ts';
import { type EvidenceKind, type EvidenceStep, type StorageEvidence, storageEvidence } from './storage-evidence.ts';

/** How semen was kept: age in days since it left the drones, °C (null: not written), diluted, frozen. */
export type Kept = { ageDays: number; celsius: number | null; diluted: boolean; frozen: boolean };

/** One source read at one age. `step` null: the source does not reach (or does not speak of) this age. */
export type EvidenceReading = {
  evidence: StorageEvidence;
  step: EvidenceStep | null;
  /** The oldest age the source speaks of, days. */
  reachesDay: number;
};

/** What is known about semen of this age, kept so; and what the breeder should be told. */
export type StoragePicture = {
  viability: readonly EvidenceReading[];
  function: readonly EvidenceReading[];
  /** Sources for other conditions, for comparison only. */
  otherConditions: readonly StorageEvidence[];
  cautions: readonly StorageCaution[];
  problems: readonly Problem<'semen-older-than-its-evidence'>[];
};

/** Things said beside stored semen. */
export type StorageCaution =
  | 'keep-dark'
  | 'no-air-at-the-seal'
  | 'never-fridge-cold'
  | 'best-12-to-16'
  | 'viable-is-not-fertile'
  | 'diluted-keeps-worse'
  | 'liquid-nitrogen'
  | 'temperature-not-written';

/** Below this °C (and not frozen) sperm suffers from cold; near 4-5 °C harm is reported (trade fact of middling confidence). */
const TOO_COLD = 8;

function fits(evidence: StorageEvidence, kept: Kept): boolean {
  if (evidence.frozen !== kept.frozen) return false;
  if (evidence.diluted !== null && evidence.diluted !== kept.diluted) return false;
  if (evidence.celsius === null || kept.celsius === null) return true;
  return kept.celsius >= evidence.celsius.from && kept.celsius <= evidence.celsius.to;
}

/** The oldest age a source speaks of, in days. */
const reachOf = (evidence: StorageEvidence): number => Math.max(...evidence.steps.map((step) => step.toDay));

function readAt(evidence: StorageEvidence, ageDays: number): EvidenceReading {
  const step = evidence.steps.find((one) => ageDays >= one.fromDay && ageDays < one.toDay + 1) ?? null;
  return { evidence, step, reachesDay: reachOf(evidence) };
}

function cautionsFor(kept: Kept): StorageCaution[] {
  if (kept.frozen) return ['liquid-nitrogen', 'viable-is-not-fertile'];
  const always: StorageCaution[] = ['keep-dark', 'no-air-at-the-seal', 'best-12-to-16', 'viable-is-not-fertile'];
  if (kept.diluted) always.push('diluted-keeps-worse');
  if (kept.celsius === null) always.push('temperature-not-written');
  else if (kept.celsius < TOO_COLD) always.unshift('never-fridge-cold');
  return always;
}

/**
 * What the literature says of semen of this age kept like this: is it alive, and does it work, apart from each other and
 * source by source, stepwise as measured. No curve is fitted and no figure is made up between two readings.
 * Warns when no source that fits the conditions reaches this age.
 * @example storagePicture({ ageDays: 49, celsius: 22, diluted: true, frozen: false }).viability[0].step // alive-between 0.58-0.8
 */
export function storagePicture(kept: Kept): StoragePicture {
  const fitting = storageEvidence.filter((evidence) => fits(evidence, kept));
  const of = (kind: EvidenceKind) =>
    fitting.filter((evidence) => evidence.kind === kind).map((evidence) => readAt(evidence, kept.ageDays));
  const reach = Math.max(0, ...fitting.map(reachOf));
  const isOlder = Math.floor(kept.ageDays) > reach;
  return {
    viability: of('viability'),
    function: of('function'),
    otherConditions: storageEvidence.filter((evidence) => !fits(evidence, kept)),
    cautions: cautionsFor(kept),
    problems: isOlder ? [warn('', 'semen-older-than-its-evidence', { days: kept.ageDays, reaches: reach })] : [],
  };
}
