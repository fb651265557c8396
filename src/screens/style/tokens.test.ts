/**
 * Contrast of every pair of tokens that is read, in all three themes, computed from tokens.css: text at least 7:1 (WCAG 2.2, 1.4.6
 * AAA), borders and drawn marks at least 3:1 (1.4.11). Relative luminance and ratio as WCAG 2.2 defines them.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

type Theme = Map<string, string>;

/** Custom properties of one block of tokens.css; a later block builds on the first. */
function themes(): Record<'paper' | 'lamp' | 'red', Theme> {
  const css = readFileSync('src/screens/style/tokens.css', 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
  const block = (selector: string, base: Theme = new Map()): Theme => {
    const at = css.indexOf(`${selector} {`);
    const inside = css.slice(css.indexOf('{', at) + 1, css.indexOf('}', at));
    const own = [...inside.matchAll(/--([\w-]+):\s*([^;]+);/g)].map(
      ([, name = '', value = '']) => [name, value] as const,
    );
    return new Map([...base, ...own]);
  };
  const paper = block(':root');
  return { paper, lamp: block('[data-theme="lamp"]', paper), red: block('[data-theme="red"]', paper) };
}

function hexOf(theme: Theme, name: string): string {
  const value = theme.get(name)?.trim() ?? '';
  const [, other] = /^var\(--([\w-]+)\)$/.exec(value) ?? [];
  return other === undefined ? value : hexOf(theme, other);
}

function luminance(hex: string): number {
  const channel = (at: number) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

function ratio(a: string, b: string): number {
  const [dark, bright] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return ((bright ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}

/** Text on what it stands on. */
const read = [
  ['ink', 'paper'],
  ['ink', 'sheet'],
  ['ink', 'hush'],
  ['ink', 'wash'],
  ['soft', 'paper'],
  ['soft', 'sheet'],
  ['soft', 'hush'],
  ['act', 'paper'],
  ['act', 'sheet'],
  ['on-act', 'act'],
  ['on-act', 'act-pressed'],
  ['on-stop', 'stop'],
] as const;

/** Borders and drawings on what they stand on. */
const drawn = [
  ['edge', 'paper'],
  ['edge', 'sheet'],
  ['act', 'paper'],
  ['ink', 'paper'],
] as const;

test('the measure itself: black on white is 21, and #767676 on white 4.54 (WCAG 2.2 understanding document)', () => {
  expect(ratio('#000000', '#ffffff')).toBeCloseTo(21, 5);
  expect(ratio('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
});

describe.each(Object.entries(themes()))('%s', (_, theme) => {
  test.each(read)('%s on %s is read: at least 7:1', (text, ground) => {
    expect(ratio(hexOf(theme, text), hexOf(theme, ground))).toBeGreaterThanOrEqual(7);
  });
  test.each(drawn)('%s on %s is seen: at least 3:1', (mark, ground) => {
    expect(ratio(hexOf(theme, mark), hexOf(theme, ground))).toBeGreaterThanOrEqual(3);
  });
});
