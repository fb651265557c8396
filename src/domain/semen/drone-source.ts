/**
 * Who laid the drones: a drone mother of the book, a group of sister queens not recorded one by one, a line,
 * an open population (strangers), or one of several when it is not known which.
 */
export type DroneSource =
  | { kind: 'mother'; queen: string }
  | { kind: 'sister-group'; group: string }
  | { kind: 'line'; line: string }
  | { kind: 'open' }
  | { kind: 'either'; options: readonly { of: SingleSource; weight: number }[] };

/** A drone source that is one thing, not "either of". */
export type SingleSource = Exclude<DroneSource, { kind: 'either' }>;

/** A source with its part of the semen (fraction 0-1). */
export type SourceShare = { of: DroneSource; share: number };

/**
 * Drones taken together for collection. `mothers` with shares of the drones (`null`: an equal part of what is left);
 * `strangers` is the fraction of drones that flew in from elsewhere, 0-1.
 */
export type DroneCatch = {
  id: string;
  mothers: readonly { of: DroneSource; share: number | null }[];
  strangers: number;
};

/** Drones nobody knows anything about. */
export const STRANGERS: SingleSource = { kind: 'open' };

/**
 * One text per source, equal exactly when the sources are the same: what shares are added up by.
 * @example sourceKey({ kind: 'mother', queen: 'M' }) // 'mother:M'
 */
export function sourceKey(of: DroneSource): string {
  switch (of.kind) {
    case 'mother':
      return `mother:${of.queen}`;
    case 'sister-group':
      return `sister-group:${of.group}`;
    case 'line':
      return `line:${of.line}`;
    case 'open':
      return 'open';
    case 'either':
      return `either:${of.options.map((option) => `${sourceKey(option.of)}=${option.weight}`).join('|')}`;
  }
}

/** Numbers scaled to add up to 1; all equal when they add up to nothing; empty stays empty. */
export function sharesOf(amounts: readonly number[]): number[] {
  const whole = amounts.reduce((sum, amount) => sum + amount, 0);
  return amounts.map((amount) => (whole > 0 ? amount / whole : 1 / amounts.length));
}

/**
 * The mothers of a catch whose drones were not told apart, with shares that add up to 1, strangers included.
 * A missing share takes an equal part of what the named ones leave (contracts.md, `mated_to`); a catch without any
 * named mother is all strangers.
 * @example catchShares({ id: 'k', mothers: [{ of: M, share: null }, { of: N, share: null }], strangers: 0.1 }) // .45 .45 .1
 */
export function catchShares(from: DroneCatch): SourceShare[] {
  if (from.mothers.length === 0) return [{ of: STRANGERS, share: 1 }];
  const named = from.mothers.reduce((sum, mother) => sum + (mother.share ?? 0), 0);
  const unnamed = from.mothers.filter((mother) => mother.share === null).length;
  const each = unnamed === 0 ? 0 : Math.max(0, 1 - named) / unnamed;
  const shares = sharesOf(from.mothers.map((mother) => mother.share ?? each));
  const ours = 1 - from.strangers;
  const mothers = from.mothers.map((mother, i) => ({ of: mother.of, share: (shares[i] ?? 0) * ours }));
  return from.strangers > 0 ? [...mothers, { of: STRANGERS, share: from.strangers }] : mothers;
}
