import { type FigureKind, figureKinds } from '#domain/rearing/profile-figures.ts';
import { figure as number } from '#words/queen-words.ts';
import { sayAny } from '#words/say.ts';

const QUEEN_LOSSES = new Set(['accepted', 'emergedQueens', 'readyQueens', 'layingQueens']);

function groupOf(key: string): string {
  const [first = '', second = ''] = key.split('.');
  if (first === 'survivals') return QUEEN_LOSSES.has(second) ? 'survivals-queens' : 'survivals-drones';
  return first === 'timings' || first === 'yields' ? first : 'ages';
}

const names = ['timings', 'survivals-queens', 'survivals-drones', 'yields', 'ages'] as const;

/** The figures of a profile in groups, in the order of a season. */
export const figureGroups: readonly { name: string; kinds: readonly FigureKind[] }[] = names.map((name) => ({
  name,
  kinds: figureKinds.filter(({ key }) => groupOf(key) === name),
}));

/** A figure as it is typed: shares in per cent, everything else as it is. */
export const typedOf = (value: number, { unit }: FigureKind): number =>
  unit === 'share' ? Math.round(value * 1000) / 10 : Math.round(value * 1000) / 1000;

/** A typed figure as it is kept. */
export const keptOf = (typed: number, { unit }: FigureKind): number => (unit === 'share' ? typed / 100 : typed);

export const unitWords = ({ unit }: FigureKind): string => (unit === 'number' ? '' : sayAny(`profiles.unit-${unit}`));

/** A figure with its unit: "80 %", "12 days". */
export function valueWords(value: number, kind: FigureKind): string {
  const digits = kind.unit === 'share' ? 1 : kind.unit === 'days' ? 1 : 2;
  return `${number(typedOf(value, kind), digits)} ${unitWords(kind)}`.trim();
}
