import { type MatingText, type MatingTextProblem, readMating } from '../pedigree/files/mating-text.ts';
import { plainWord } from './plain-words.ts';
import { openWords } from './value-words.ts';

/** What a drone column says: mated by herself, or named parts (alternatives when `oneOf`). */
export type MatingRead =
  | { is: 'open' }
  | { is: 'named'; oneOf: boolean; parts: MatingText['parts'] }
  | MatingTextProblem;

const OR = /\s+(?:or|oder|ou|o|lub|albo)\s+/giu;
const AND = /\s*[+&]\s*|\s+(?:and|und|et|y|e|i)\s+|,\s+/giu;
const RATHER = /[,;]?\s*(?:rather|more likely|eher|wohl|plut[oô]t|m[aá]s bien|piuttosto|raczej)\s+(.+)$/iu;
/** "Rather the first" as weights where no numbers are written. */
const LIKELIER = 0.7;

/** Words and per cents as the signs of {@link readMating}: `M 60 %, N 40 %` is `M:0.6;N:0.4`, "R7 or R9" is `R7|R9`. */
function asSigns(text: string): string {
  const percents = text.replace(
    /\s*:?\s*(\d{1,3}(?:[.,]\d+)?)\s*%/g,
    (_, number: string) => `:${Number(number.replace(',', '.')) / 100}`,
  );
  return percents.replace(OR, '|').replace(AND, ';');
}

/** "…, rather R-07": the named one is likelier than the others together. */
function withLikelier(parts: MatingText['parts'], likelier: string): MatingText['parts'] {
  const others = parts.length - 1;
  if (others < 1 || !parts.some(({ code }) => code === likelier)) return parts;
  return parts.map((part) => ({ ...part, share: part.code === likelier ? LIKELIER : (1 - LIKELIER) / others }));
}

/**
 * Reads what a breeder writes of the drones a queen was mated with: a code, several with shares or per cents, "R-07 or R-09, rather
 * R-07", or a word for open mating in six languages.
 * @example readMatingWords('M 60 %, N 40 %', { isCode: () => false, decimalComma: true }) // named, shares 0.6 and 0.4
 */
export function readMatingWords(
  text: string,
  options: { isCode: (text: string) => boolean; decimalComma: boolean },
): MatingRead {
  if (openWords.includes(plainWord(text))) return { is: 'open' };
  if (options.isCode(text.trim())) return named(readMating(text, options));
  const rather = RATHER.exec(text);
  const plain = asSigns((rather === null ? text : text.slice(0, rather.index)).replace(/\?\s*$/, ''));
  // After the signs were put in, a point is the only decimal mark left.
  const read = readMating(plain, { ...options, decimalComma: plain.includes(',') });
  if (rather === null || 'code' in read || !read.oneOf) return named(read);
  return named({ ...read, parts: withLikelier(read.parts, (rather[1] ?? '').trim()) });
}

const named = (read: MatingText | MatingTextProblem): MatingRead =>
  'code' in read ? read : { is: 'named', oneOf: read.oneOf, parts: read.parts };
