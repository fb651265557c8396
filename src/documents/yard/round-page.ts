import type { QueenFace } from '#domain/marking/queen-face.ts';
import { say } from '#words/say.ts';
import { drawMark } from '../drawn-mark.ts';
import type { Sheet } from '../sheet.ts';

/** Diameter of a circle a gloved hand can tick, and the height of a row, millimetres. */
const CIRCLE = 12;
const ROW = 16;
const LEFT = 10;
const RIGHT = 200;
const TOP = 48;
/** Rows on an A4. */
export const ROWS = 14;

/** One line of a round: the nuc, its queen, what to look for, in the order of the walk. */
export type SheetRow = { nuc: string; queen: QueenFace | null; beside: string };

export type RoundSheet = {
  title: string;
  /** Day and yard. */
  under: string;
  code: string;
  choices: readonly string[];
  rows: readonly SheetRow[];
};

const called = ({ code, called: other }: QueenFace): string => code ?? other ?? '–';

function head(sheet: Sheet, { title, under, code, choices }: RoundSheet, at: { page: number; pages: number }): number {
  sheet.write(title, { x: LEFT, y: 10, points: 20, face: 'bold', role: 'H1', width: 150 });
  sheet.write(under, { x: LEFT, y: 20, points: 12, width: 150 });
  sheet.write(say('sheet.how'), { x: LEFT, y: 26, points: 10, width: 150 });
  sheet.write(`${say('sheet.by')} ____________`, { x: 132, y: 14, points: 11, width: 44 });
  if (at.pages > 1) sheet.write(say('sheet.page', at), { x: 132, y: 20, points: 10, width: 44 });
  sheet.code(code, { x: 177, y: 4, module: 0.55 });
  const step = Math.min(26, 130 / choices.length);
  for (const [i, words] of choices.entries())
    sheet.write(words, {
      x: RIGHT - (choices.length - i) * step,
      y: TOP - 10,
      points: 9.5,
      width: step - 0.5,
      align: 'center',
      lines: 2,
    });
  sheet.line([LEFT, TOP], [RIGHT, TOP], { weight: 0.6 });
  return step;
}

function row(
  sheet: Sheet,
  { nuc, queen, beside }: SheetRow,
  y: number,
  { choices, step }: { choices: number; step: number },
) {
  sheet.write(nuc, { x: LEFT, y: y + 2, points: 16, face: 'bold', width: 26, lines: 1 });
  sheet.write(beside, { x: LEFT, y: y + 9.5, points: 9, width: 58, lines: 1 });
  if (queen !== null) {
    if (queen.year !== null)
      drawMark(sheet, { year: queen.year, disc: queen.mark?.disc ?? null }, { x: LEFT + 27, y: y + 1.5, side: 7 });
    const year = queen.year === null ? '' : `’${String(queen.year).slice(-2)} `;
    sheet.write(`${year}${called(queen)}`, { x: LEFT + 36, y: y + 3, points: 10, face: 'mono', width: 24, lines: 1 });
  }
  for (let i = 0; i < choices; i++)
    sheet.circle({ x: RIGHT - (choices - i) * step + step / 2, y: y + ROW / 2, radius: CIRCLE / 2 }, { weight: 0.4 });
  sheet.line([LEFT, y + ROW], [RIGHT, y + ROW], { weight: 0.2 });
}

/** The pages of a round sheet: identity, circles of 12 mm, in walking order. */
export function drawRound(sheet: Sheet, of: RoundSheet): void {
  const pages = Math.max(1, Math.ceil(of.rows.length / ROWS));
  for (let page = 1; page <= pages; page++) {
    if (page > 1) sheet.page();
    const step = head(sheet, of, { page, pages });
    const rows = of.rows.slice((page - 1) * ROWS, page * ROWS);
    for (const [i, each] of rows.entries()) row(sheet, each, TOP + i * ROW, { choices: of.choices.length, step });
    if (rows.length === 0) sheet.write(say('sheet.nothing'), { x: LEFT, y: TOP + 6, points: 12, width: 180 });
  }
}
