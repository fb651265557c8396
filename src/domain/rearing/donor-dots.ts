import { atLeast } from '#numeric/chance/binomial.ts';

/** The number of drones that give semen which is reached with chance `sure` of `drones` handled. */
function reachedWith(sure: number, drones: number, yielding: number): number {
  let low = 0;
  let high = drones;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (atLeast(middle, drones, yielding) >= sure) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * Equally likely numbers of drones that give semen, lowest first: the dots of "in 18 of 20 seasons like yours this is enough".
 * Dot i stands for the middle of its twentieth of the binomial distribution. `drones` handled, `yielding` their share 0-1.
 * @example donorDots(231, 0.5).filter((donors) => donors >= 106).length // 18 of 20
 */
export const donorDots = (drones: number, yielding: number, dots = 20): number[] =>
  Array.from({ length: dots }, (_, i) => reachedWith(1 - (i + 0.5) / dots, drones, yielding));
