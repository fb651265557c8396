/** The text a mating is written as: `M`, `M:0.6;N:0.4`, `M:0.9;open:0.1`, or alternatives `R7:0.7|R9:0.3`. */
import { parseDecimal } from '#numeric/csv/parse-decimal.ts';

/**
 * One source of a mating: its code, its share of the sperm (or its probability), > 0 and together 1, and whether the share was left out in the text.
 */
export type MatingPart = { code: string; share: number; filledIn: boolean };

/** A mating read: its parts, whether they are alternatives, and what the written shares added up to where they had to be scaled (else null). */
export type MatingText = { oneOf: boolean; parts: MatingPart[]; scaledFrom: number | null };

/** Why a mating could not be read, and the part of the text it stands in. */
export type MatingTextProblem = {
  code: 'mating-mixed' | 'mating-part-empty' | 'share-not-a-number' | 'shares-not-one' | 'nothing-left';
  found: string;
};

type Options = {
  /** Whether a text as a whole is a code of the stock (a code may hold `:` `;` or `|` itself). */
  isCode: (text: string) => boolean;
  decimalComma: boolean;
};

function readPart(
  text: string,
  { isCode, decimalComma }: Options,
): { code: string; share: number | null } | MatingTextProblem {
  const part = text.trim();
  if (part === '') return { code: 'mating-part-empty', found: text };
  const colon = part.lastIndexOf(':');
  if (colon < 0 || isCode(part)) return { code: part, share: null };
  const share = parseDecimal(part.slice(colon + 1), decimalComma);
  const code = part.slice(0, colon).trim();
  if (code === '') return { code: 'mating-part-empty', found: part };
  if (share === null || !(share > 0)) return { code: 'share-not-a-number', found: part };
  return { code, share };
}

/** Whether every part between semicolons is a code of the stock, even though one of them holds a `|`. */
const isMixtureOfCodes = (text: string, options: Options): boolean =>
  text.split(';').every((piece) => {
    const part = readPart(piece, options);
    return 'share' in part && options.isCode(part.code);
  });

/**
 * Reads a mating. Shares are > 0; a missing share takes an equal part of what is left; together they must make 1 ± 0.01 and are
 * then scaled to 1.
 * @example readMating('M:0.6;N', { isCode: () => false, decimalComma: false }).parts // [{ code: 'M', share: 0.6 }, { code: 'N', share: 0.4, filledIn: true }]
 */
export function readMating(text: string, options: Options): MatingText | MatingTextProblem {
  if (options.isCode(text.trim()))
    return { oneOf: false, parts: [{ code: text.trim(), share: 1, filledIn: false }], scaledFrom: null };
  const oneOf = text.includes('|') && !isMixtureOfCodes(text, options);
  if (oneOf && text.includes(';')) return { code: 'mating-mixed', found: text };
  const parts: { code: string; share: number | null }[] = [];
  for (const piece of text.split(oneOf ? '|' : ';')) {
    const part = readPart(piece, options);
    if ('found' in part) return part;
    parts.push(part);
  }
  const shares = completeShares(parts.map((part) => part.share));
  if (typeof shares === 'string') return { code: shares, found: text };
  return {
    oneOf,
    parts: parts.map((part, i) => ({
      code: part.code,
      share: shares.shares[i] ?? 0,
      filledIn: part.share === null && parts.length > 1,
    })),
    scaledFrom: shares.scaledFrom,
  };
}

/**
 * Shares with the missing ones filled in by equal parts of what is left, scaled to 1; or why they cannot be. `scaledFrom` is the sum
 * they had when it was not 1.
 * @example completeShares([0.6, null]) // { shares: [0.6, 0.4], scaledFrom: null }
 */
export function completeShares(
  written: readonly (number | null)[],
): { shares: number[]; scaledFrom: number | null } | 'shares-not-one' | 'nothing-left' {
  const known = written.reduce<number>((sum, share) => sum + (share ?? 0), 0);
  const missing = written.filter((share) => share === null).length;
  if (missing === 0 && Math.abs(known - 1) > 0.01 + 1e-12) return 'shares-not-one';
  if (missing > 0 && known >= 1) return 'nothing-left';
  const each = missing === 0 ? 0 : (1 - known) / missing;
  const sum = missing === 0 ? known : 1;
  const shares = written.map((share) => (share ?? each) / sum);
  return { shares, scaledFrom: Math.abs(sum - 1) > 1e-9 ? sum : null };
}
