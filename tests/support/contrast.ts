/** Contrast of the tokens, computed from tokens.css as WCAG 2.2 defines relative luminance and ratio. */
import { readFileSync } from 'node:fs';

type Theme = Map<string, string>;

/** Custom properties of one block of tokens.css; a later block builds on the first. */
export function themes(): Record<'paper' | 'lamp' | 'red', Theme> {
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

export function hexOf(theme: Theme, name: string): string {
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

export function ratio(a: string, b: string): number {
  const [dark, bright] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return ((bright ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}

/** Text on what it stands on. */
export const read = [
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
export const drawn = [
  ['edge', 'paper'],
  ['edge', 'sheet'],
  ['act', 'paper'],
  ['ink', 'paper'],
] as const;
