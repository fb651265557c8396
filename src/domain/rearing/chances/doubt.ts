import type { Share } from '#numeric/chance/count-steps.ts';
import type { Factor } from '#numeric/chance/factor.ts';
import type { Figure } from '../figure.ts';

/** Half the width of the middle nine tenths of a normal distribution, in standard deviations. */
const NINE_TENTHS = 1.6448536269514722;

/** A figure's range is read as the middle nine tenths of what it may be. */
const deviationOf = ({ low, high }: Figure): number => (high - low) / (2 * NINE_TENTHS);

/** A figure that is a share 0-1, with its doubt: a Beta with its middle value, or the value alone where no range is known. */
export function shareOf(figure: Figure): Share {
  const sd = deviationOf(figure);
  if (sd === 0 || figure.value <= 0 || figure.value >= 1) return { kind: 'point', value: figure.value };
  return { kind: 'share', mean: figure.value, sd };
}

/** A figure that is a size above 0 (a volume, a count), with its doubt: log-normal. */
export function sizeOf(figure: Figure): Factor {
  const sd = deviationOf(figure);
  return sd === 0 ? { kind: 'point', value: figure.value } : { kind: 'size', mean: figure.value, sd };
}

/** What is left when a share is lost, with the same doubt. */
export function keptOf(lost: Figure): Share {
  const share = shareOf(lost);
  return share.kind === 'point' ? { kind: 'point', value: 1 - share.value } : { ...share, mean: 1 - share.mean };
}
