import type { Sight } from '#domain/living/check.ts';
import { sights as allSights } from '#records/care.ts';
import type { RecordId } from '#units/record-id.ts';

/** One line of a sheet that was otherwise: the nuc and what was seen. */
export type OtherLine = { colony: RecordId; sights: Sight[] };

/** What is wrong in which line, counted from 1. */
export type LineProblem = { line: number; code: 'unknown-nuc' | 'unknown-sight' | 'twice'; found: string };

const plain = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');

/** The sight a word names: the word itself, or the only one that begins like it ("drone" = drone caps). */
function sightOf(typed: string, words: ReadonlyMap<Sight, string>): Sight | null {
  const sought = plain(typed);
  if (sought === '') return null;
  const exact = allSights.find((sight) => plain(words.get(sight) ?? sight) === sought || plain(sight) === sought);
  if (exact !== undefined) return exact;
  const near = allSights.filter((sight) => plain(words.get(sight) ?? sight).startsWith(sought));
  return near.length === 1 ? (near[0] ?? null) : null;
}

/** The longest nuc code the line begins with, dashes and case set aside: "n4 no eggs" for N-04 is not guessed, "N04" is. */
function nucOf(line: string, nucs: readonly { id: RecordId; code: string }[]): { id: RecordId; rest: string } | null {
  const first = line.trim().split(/[\s:]+/)[0] ?? '';
  const found = nucs.find(({ code }) => plain(code) === plain(first));
  return found === undefined
    ? null
    : {
        id: found.id,
        rest: line
          .trim()
          .slice(first.length)
          .replace(/^[\s:]+/, ''),
      };
}

/**
 * Reads the lines of a sheet where it was otherwise: a nuc's code, then what was seen, several with commas.
 * @param words what each sight is called in the person's language
 */
export function readSheetLines(
  text: string,
  { nucs, words }: { nucs: readonly { id: RecordId; code: string }[]; words: ReadonlyMap<Sight, string> },
): { otherwise: OtherLine[]; problems: LineProblem[] } {
  const otherwise: OtherLine[] = [];
  const problems: LineProblem[] = [];
  for (const [n, written] of text.split('\n').entries()) {
    if (written.trim() === '') continue;
    const line = n + 1;
    const first = written.trim().split(/[\s:]+/)[0] ?? '';
    const nuc = nucOf(written, nucs);
    if (nuc === null) {
      problems.push({ line, code: 'unknown-nuc', found: first });
      continue;
    }
    if (otherwise.some(({ colony }) => colony === nuc.id)) problems.push({ line, code: 'twice', found: first });
    const parts = nuc.rest.split(',').map((part) => part.trim());
    const sights = parts.map((part) => sightOf(part, words));
    const unknown = parts.find((_, at) => sights[at] === null);
    if (unknown !== undefined) problems.push({ line, code: 'unknown-sight', found: unknown });
    else otherwise.push({ colony: nuc.id, sights: sights.filter((sight) => sight !== null) });
  }
  return { otherwise, problems };
}
