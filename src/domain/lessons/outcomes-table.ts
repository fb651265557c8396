import type { Outcome } from './outcome.ts';

/** The columns of OUTCOMES.csv (contracts.md, Files) in their order. */
export const OUTCOME_COLUMNS = [
  'queen',
  'inseminated',
  'operator',
  'batch',
  'tip',
  'dose',
  'co2',
  'storage_days',
  'laying',
  'laying_on',
  'checked_on',
  'lost_on',
  'brood',
  'fate',
  'bench_day',
  'saline',
  'drone_age',
  'queen_age',
  'care',
  'exceptions',
] as const;

const endOf = (outcome: Outcome, column: string): string | null => {
  switch (column) {
    case 'queen':
      return outcome.queen;
    case 'inseminated':
      return outcome.inseminated ?? '';
    case 'laying':
      return outcome.laying === null ? '' : outcome.laying ? 'yes' : 'no';
    case 'laying_on':
      return outcome.layingOn ?? '';
    case 'checked_on':
      return outcome.checkedOn ?? '';
    case 'lost_on':
      return outcome.lostOn ?? '';
    case 'fate':
      return outcome.fate ?? '';
    default:
      return null;
  }
};

/** Outcomes as rows of texts under {@link OUTCOME_COLUMNS}, as `readOutcomes` reads them back; `brood` is that of each row. */
export function outcomeRows(outcomes: readonly (Outcome & { brood: string })[]): string[][] {
  return outcomes.map((outcome) =>
    OUTCOME_COLUMNS.map((column) =>
      column === 'brood' ? outcome.brood : (endOf(outcome, column) ?? outcome.factors[column] ?? ''),
    ),
  );
}
