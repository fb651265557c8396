import type { Sheet } from '../sheet.ts';

/** Tags of 60 × 20 mm, three by thirteen on an A4, to be cut apart along dashed lines. */
export const tagGrid = { across: 3, down: 13, width: 60, height: 20, left: 15, top: 18.5 } as const;

/** Side of one module of a tag's code: whole printer dots at 300 dpi, millimetres. */
export const TAG_MODULE = 0.339;

/** Where the n-th tag of a sheet begins (from 0), millimetres. */
export function tagAt(n: number): { x: number; y: number } {
  const { across, width, height, left, top } = tagGrid;
  return { x: left + (n % across) * width, y: top + Math.floor(n / across) * height };
}

/** Draws tags one after another, sheet after sheet, each within its cutting lines. */
export function drawTags<T>(
  sheet: Sheet,
  tags: readonly T[],
  draw: (tag: T, at: { x: number; y: number }) => void,
): void {
  const many = tagGrid.across * tagGrid.down;
  for (const [n, tag] of tags.entries()) {
    if (n > 0 && n % many === 0) sheet.page();
    const at = tagAt(n % many);
    sheet.box({ ...at, width: tagGrid.width, height: tagGrid.height }, { weight: 0.15, dash: 1 });
    draw(tag, at);
  }
}
