import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { isCovered, printable } from './printable.ts';

const own = createRequire(import.meta.url);
/** The font reader pdfkit itself uses: what it has no glyph for would be drawn as an empty box. */
const fontkit = createRequire(own.resolve('pdfkit'))('fontkit') as {
  create: (bytes: Buffer) => { hasGlyphForCodePoint: (code: number) => boolean };
};
const faces = [
  'next/400Regular/AtkinsonHyperlegibleNext_400Regular',
  'next/700Bold/AtkinsonHyperlegibleNext_700Bold',
  'mono/700Bold/AtkinsonHyperlegibleMono_700Bold',
].map((name) => {
  const [family, ...file] = name.split('/');
  return fontkit.create(
    readFileSync(own.resolve(`@expo-google-fonts/atkinson-hyperlegible-${family}/${file.join('/')}.ttf`)),
  );
});
const hasAll = (words: string) =>
  [...words].every((symbol) =>
    faces.every((face) => symbol === '\n' || face.hasGlyphForCodePoint(symbol.codePointAt(0) ?? 0)),
  );

describe('words on paper', () => {
  it('call a letter covered only when every bundled face has it', () => {
    const wrong: string[] = [];
    for (let code = 0x20; code < 0x3000; code++) {
      const symbol = String.fromCodePoint(code);
      if (isCovered(symbol) && !faces.every((face) => face.hasGlyphForCodePoint(code))) wrong.push(code.toString(16));
    }
    expect(wrong).toEqual([]);
  });

  it('stay as they are in the Latin scripts of Europe', () => {
    for (const words of [
      'Łąka żółw',
      'Žužek',
      'Čebelářka',
      'Größe',
      'ñandú',
      'œuf',
      'Ștefan',
      'Őrség',
      'Þór',
      'Ġgantija',
    ])
      expect(printable(words)).toBe(words);
  });

  it.each([
    ['Ольга Щукина', 'Ol’ga Ŝukina'],
    ['Мелітополь', 'Melìtopol’'],
    ['Ђорђе Његош', 'Đorđe Negoš'],
    ['Μέλισσα', 'Mélissa'],
    ['王小明 26-014', '[…] 26-014'],
    ['נחל', '[…]'],
    ['蜂 室', '[…]'],
    ['8 μl', '8 μl'],
    ['Ẃ ắ', 'Ẃ ă'],
  ])('%s', (words, expected) => {
    const found = printable(words);
    expect(found.normalize('NFD').replace(/[\u0301\u0302]/g, '')).toBe(
      expected.normalize('NFD').replace(/[\u0301\u0302]/g, ''),
    );
    expect(hasAll(found), found).toBe(true);
  });

  it('never hold a symbol that would be an empty box, whatever is typed', () => {
    for (let code = 0x20; code < 0x30000; code += 7) {
      if (code >= 0xd800 && code <= 0xdfff) continue;
      const found = printable(`a${String.fromCodePoint(code)}b`);
      expect(hasAll(found), code.toString(16)).toBe(true);
    }
  });
});
