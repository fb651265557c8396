/** What the printed faces lack, as what they have: they hold the Greek mu and not the micro sign, and no small figures. */
const INSTEAD: Readonly<Record<string, string>> = { '\u00b5': '\u03bc', '₂': '2', '→': '–', '\u2009': ' ' };

/**
 * Code points every bundled face (Atkinson Hyperlegible Next and Mono) has a letter for: Latin of Western and Central Europe with its marks, and signs. A test holds
 * it against the fonts themselves.
 */
const COVERED: readonly (readonly [number, number])[] = [
  [0x20, 0x7e],
  [0xa0, 0xac],
  [0xae, 0xb4],
  [0xb6, 0x107],
  [0x10a, 0x113],
  [0x116, 0x11b],
  [0x11e, 0x123],
  [0x126, 0x127],
  [0x12a, 0x12b],
  [0x12e, 0x133],
  [0x136, 0x137],
  [0x139, 0x13e],
  [0x141, 0x148],
  [0x150, 0x155],
  [0x158, 0x15b],
  [0x15e, 0x165],
  [0x16a, 0x16b],
  [0x16e, 0x17e],
  [0x218, 0x21b],
  [0x300, 0x304],
  [0x306, 0x308],
  [0x30a, 0x30c],
  [0x326, 0x328],
  [0x3bc, 0x3bc],
  [0x2013, 0x2014],
  [0x2018, 0x201a],
  [0x201c, 0x201e],
  [0x2020, 0x2022],
  [0x2026, 0x2026],
  [0x2039, 0x203a],
  [0x20ac, 0x20ac],
  [0x2122, 0x2122],
  [0x2212, 0x2212],
];

/** Whether the printed faces have a letter for a symbol. */
export function isCovered(symbol: string): boolean {
  const at = symbol.codePointAt(0) ?? 0;
  return at === 10 || COVERED.some(([from, to]) => from <= at && at <= to);
}

/** Cyrillic in Latin letters, one for one as ISO 9:1995 has it (table from memory); signs the faces lack lose their mark below. */
const CYRILLIC: Readonly<Record<string, string>> = Object.fromEntries(
  [
    'аa бb вv гg дd еe ёë жž зz иi йj кk лl мm нn оo пp рr сs тt уu фf хh цc чč шš щŝ ъ” ыy ь’ эè юû яâ',
    'іì їï єê ґg ўŭ ђđ јj љl њn ћć џd ѓǵ ќḱ ѕẑ',
  ]
    .flatMap((row) => row.split(' '))
    .map((pair) => [...pair.normalize('NFC')])
    .map(([from = '', ...to]) => [from, to.join('')]),
);

/** Greek in Latin letters as ISO 843 has it (table from memory). */
const GREEK: Readonly<Record<string, string>> = Object.fromEntries(
  'αa βv γg δd εe ζz ηī θth ιi κk λl μm νn ξx οo πp ρr σs ςs τt υy φf χch ψps ωō'
    .split(' ')
    .map((pair) => [...pair])
    .map(([from = '', ...to]) => [from, to.join('')]),
);

const LETTERS = { ...CYRILLIC, ...GREEK };

/** One letter of another script in Latin letters, capitals kept; `null` where we know none. */
function inLatin(letter: string): string | null {
  const small = letter.toLowerCase();
  const [base = '', ...marks] = small.normalize('NFD');
  const found = LETTERS[small] ?? (LETTERS[base] === undefined ? undefined : LETTERS[base] + marks.join(''));
  if (found === undefined) return null;
  const [first = '', ...rest] = found;
  return letter === small ? found : first.toUpperCase() + rest.join('');
}

/** Stands for a run of letters the faces do not have; the page on the screen shows them. */
const NOT_PRINTED = '[…]';

/** What of a symbol can be printed: itself, its Latin letters, its base letter without the mark; `null` for nothing. */
function printed(symbol: string): string | null {
  if (isCovered(symbol)) return symbol;
  const latin = inLatin(symbol) ?? symbol;
  const parts = [...latin.normalize('NFC')].flatMap((each) => (isCovered(each) ? [each] : [...each.normalize('NFKD')]));
  const kept = parts.filter(isCovered).join('');
  return kept === '' ? null : kept;
}

/**
 * Words as the printed faces can write them, so that no letter becomes an empty box: without control characters; Cyrillic and Greek in Latin letters; a letter with
 * a mark the faces lack without its mark; any other script as `[…]`, once a run.
 * @example printable('Ольга 王') // "Ol’ga […]"
 */
export function printable(words: string): string {
  const plain = words
    .normalize('NFC')
    .replace(/[\p{Cc}\p{Cf}]/gu, (c) => (c === '\n' ? '\n' : ''))
    .replace(/[\u00b5₂→\u2009]/g, (c) => INSTEAD[c] ?? c)
    .replace(/[\u0370-\u03ff\u1f00-\u1fff]{2,}/g, (run) => [...run].map((each) => inLatin(each) ?? each).join(''));
  return [...plain]
    .map((symbol) => printed(symbol) ?? NOT_PRINTED)
    .join('')
    .replaceAll(/(\[…\]\s?)+(?=\[…\])/g, '');
}
