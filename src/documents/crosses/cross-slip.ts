import type { CrossLeaf } from '#questions/crosses/cross-leaf.ts';
import { crossLeaf } from '#questions/crosses/cross-leaf.ts';
import type { DronePart, SideQueen } from '#questions/crosses/cross-sides.ts';
import { dayWords } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { drawMark } from '../drawn-mark.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';

const LEFT = 8;
const WIDTH = sizes.a6[0] - 2 * LEFT;
const MARK = 6;
const ROW = 7.4;

const called = ({ face }: SideQueen): string => face.code ?? face.called ?? '–';

/** A queen on one line: her mark, her code, her line. */
function queenLine(sheet: Sheet, queen: SideQueen, at: { y: number; share?: string }): void {
  const { face } = queen;
  if (face.year !== null)
    drawMark(sheet, { year: face.year, disc: face.mark?.disc ?? null }, { x: LEFT, y: at.y, side: MARK });
  const x = LEFT + MARK + 2;
  const year = face.year === null ? '' : `’${String(face.year).slice(-2)} `;
  sheet.write(`${year}${called(queen)}`, { x, y: at.y + 0.8, width: 44, points: 12, face: 'mono', lines: 1 });
  const beside = [face.line, at.share].filter(Boolean).join(' · ');
  sheet.write(beside, { x: x + 45, y: at.y + 1.2, width: WIDTH - 45 - MARK - 2, points: 9, align: 'right', lines: 1 });
}

const shareOf = ({ share }: DronePart): string => (share === null ? '' : `${Math.round(share * 100)}%`);

function partLine(sheet: Sheet, part: DronePart, y: number): void {
  if (part.queen !== null) {
    queenLine(sheet, part.queen, { y, share: shareOf(part) });
    return;
  }
  const name =
    part.group === null ? say('side.line', { line: part.line?.name ?? '' }) : `${part.group.code} × ${part.group.size}`;
  sheet.write(name, { x: LEFT, y: y + 0.8, width: 60, points: 12, face: 'bold', lines: 1 });
  sheet.write(shareOf(part), { x: LEFT + 60, y: y + 1.2, width: WIDTH - 60, points: 9, align: 'right' });
}

function heading(sheet: Sheet, words: string, y: number): number {
  sheet.line([LEFT, y], [LEFT + WIDTH, y], { weight: 0.5 });
  return sheet.write(words, { x: LEFT, y: y + 1.2, width: WIDTH, points: 10, face: 'bold', role: 'H2' }) + 0.8;
}

/** Sides that do not fit are named by how many more there are: the slip stays one slip. */
const MOST = 3;

function side<T>(
  sheet: Sheet,
  { title, parts, y }: { title: string; parts: readonly T[]; y: number },
  draw: (part: T, y: number) => void,
): number {
  let at = heading(sheet, title, y);
  for (const part of parts.slice(0, MOST)) {
    draw(part, at);
    at += ROW;
  }
  if (parts.length > MOST)
    at = sheet.write(say('slip.more', { n: parts.length - MOST }), { x: LEFT, y: at, width: WIDTH, points: 9 }) + 1;
  return at + 1;
}

function standIns(sheet: Sheet, { sides }: CrossLeaf, y: number): number {
  const named = (which: 'queen' | 'drone') =>
    sides.standIns
      .filter((standIn) => standIn.side === which)
      .map(called)
      .join(', ') || '–';
  const top = heading(sheet, say('cross.stand-ins'), y);
  const words = `${say('cross.queen-side')}: ${named('queen')}\n${say('cross.drone-side')}: ${named('drone')}`;
  return sheet.write(words, { x: LEFT, y: top, width: WIDTH, points: 10, lines: 4 }) + 1.5;
}

function drawSlip(sheet: Sheet, leaf: CrossLeaf): void {
  const { cross, sides } = leaf;
  sheet.write(say('cross.title', { code: cross.code }), {
    x: LEFT,
    y: 7,
    width: WIDTH - 30,
    points: 24,
    face: 'bold',
    role: 'H1',
    lines: 1,
  });
  const day = cross.inseminate_on === null ? say('cross.no-day') : dayWords(cross.inseminate_on);
  let y = sheet.write(day, { x: LEFT, y: 18, width: WIDTH, points: 14, face: 'bold' });
  y = sheet.write(say('cross.wanted', { n: cross.queens_wanted, dose: cross.dose_ul }), {
    x: LEFT,
    y: y + 0.5,
    width: WIDTH,
    points: 11,
  });
  if (cross.latest_on !== null)
    y = sheet.write(say('cross.latest-day', { day: dayWords(cross.latest_on) }), {
      x: LEFT,
      y,
      width: WIDTH,
      points: 10,
    });
  if (cross.purpose !== null) y = sheet.write(cross.purpose, { x: LEFT, y: y + 1, width: WIDTH, points: 11, lines: 3 });
  y = side(sheet, { title: say('cross.queen-side'), parts: sides.dams, y: y + 2 }, (queen, at) =>
    queenLine(sheet, queen, { y: at }),
  );
  y = side(sheet, { title: say('cross.drone-side'), parts: sides.drones, y }, (part, at) => partLine(sheet, part, at));
  y = standIns(sheet, leaf, y);
  const top = heading(sheet, say('slip.notes'), y);
  for (let line = top + 6; line < sizes.a6[1] - 8; line += 8)
    sheet.line([LEFT, line], [LEFT + WIDTH, line], { weight: 0.2 });
}

/** The cross slip, A6: one planned cross in the pocket. */
export const crossSlip = paper({
  name: 'cross-slip',
  form: 'application/pdf',
  question: crossLeaf,
  fileName: (leaf) => `cross-${leaf?.cross.code ?? 'unknown'}.pdf`,
  draw: (leaf) =>
    drawSheet(
      { title: say('cross.title', { code: leaf?.cross.code ?? '' }), size: sizes.a6, language: language() },
      (sheet) => {
        if (leaf === null) sheet.write(say('cross.unknown'), { x: LEFT, y: 10, width: WIDTH });
        else drawSlip(sheet, leaf);
      },
    ),
});
