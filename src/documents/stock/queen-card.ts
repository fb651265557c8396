import type { DescentDrones, DescentQueen } from '#domain/stock-book/descent.ts';
import { type QueenLeaf, queenLeaf } from '#questions/stock/queen-leaf.ts';
import type { StoryEvent } from '#questions/stock/story.ts';
import { shortDay } from '#words/day-words.ts';
import { droneWords, figure, sonsWords } from '#words/queen-words.ts';
import { language, say } from '#words/say.ts';
import { eventWords } from '#words/story-words.ts';
import { drawMark } from '../drawn-mark.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';

const LEFT = 7;
const WIDTH = sizes.a6[0] - 2 * LEFT;
const BOTTOM = sizes.a6[1] - 6;

const called = ({ row }: QueenLeaf): string => row.code ?? row.called ?? say('queen.no-code');

function standsOn({ row }: QueenLeaf): string {
  if (row.stands === null) return say('queen.stands-nowhere');
  if (row.stands.in === 'cage') return say('queen.in-cage', { number: row.stands.name });
  const { name: colony, yard } = row.stands;
  return yard === null ? colony : say('queen.in-colony', { colony, yard });
}

function heading(sheet: Sheet, words: string, y: number): number {
  sheet.line([LEFT, y], [LEFT + WIDTH, y], { weight: 0.5 });
  return sheet.write(words, { x: LEFT, y: y + 1.2, width: WIDTH, points: 11, face: 'bold', role: 'H2' }) + 0.6;
}

/** Mark, code and square code: what she is known by at arm's length. */
function identity(sheet: Sheet, leaf: QueenLeaf): number {
  const { row } = leaf;
  const code = called(leaf);
  const side = row.code === null ? 0 : sheet.code(row.code, { x: LEFT + WIDTH - 17, y: 5, module: 0.55 });
  const year = row.year;
  if (year !== null) drawMark(sheet, { year, disc: row.mark?.disc ?? null }, { x: LEFT, y: 7, side: 13 });
  const x = year === null ? LEFT : LEFT + 16;
  const width = WIDTH - (x - LEFT) - Math.max(side, 4);
  sheet.write(code, { x, y: 6.4, width, points: 22, face: 'mono', role: 'H1', lines: 1 });
  const born = row.emerged === null ? (year === null ? '' : String(year)) : shortDay(row.emerged);
  const beside = [born, row.line === null ? null : say('queen.line-named', { line: row.line })];
  sheet.write(beside.filter(Boolean).join(' · '), { x, y: 16, width, points: 11, lines: 1 });
  return 24;
}

function facts(sheet: Sheet, leaf: QueenLeaf, y: number): number {
  const { row, inbreeding } = leaf;
  const told: readonly (readonly [string, string | null])[] = [
    [say('stock.stands'), standsOn(leaf)],
    [say('leaf.carries'), row.droneSide === null ? say('leaf.carries-nothing') : droneWords(row.droneSide)],
    [say('leaf.brood-inbreeding'), inbreeding.brood === null ? null : figure(inbreeding.brood, 3)],
    [say('leaf.owner'), leaf.owner],
  ];
  let at = y;
  for (const [name, fact] of told) {
    if (fact === null) continue;
    sheet.write(name, { x: LEFT, y: at, width: 41, points: 11, lines: 1 });
    at = sheet.write(fact, { x: LEFT + 42, y: at, width: WIDTH - 42, points: 11, lines: 2 }) + 0.6;
  }
  return at + 1;
}

/** One line of a descent, as far to the right as its generation. */
type DescentLine = { generation: number; words: string; code: boolean };

function droneLines(drones: DescentDrones, generation: number): DescentLine[] {
  const behind = (drones.mothers ?? []).flatMap((mother) => queenLines(mother, generation + 1));
  const more =
    drones.more > 0
      ? [{ generation: generation + 1, words: say('descent.more', { n: drones.more }), code: false }]
      : [];
  return [{ generation, words: `♂♂ ${sonsWords(drones.side)}`, code: false }, ...behind, ...more];
}

/** A queen and what stands behind her: the queen side first, the drone side as a group below it. */
function queenLines(at: DescentQueen, generation: number): DescentLine[] {
  const her: DescentLine = {
    generation,
    words: at.sisters > 1 ? `${at.name} (${say('descent.sisters', { n: at.sisters })})` : at.name,
    code: true,
  };
  if (generation >= 2 || at.dam === undefined) return [her];
  const dam: DescentLine[] =
    at.dam === null
      ? [{ generation: generation + 1, words: say('descent.dam-unknown'), code: false }]
      : queenLines(at.dam, generation + 1);
  const drones: DescentLine[] =
    at.drones == null
      ? [{ generation: generation + 1, words: say('descent.drones-unknown'), code: false }]
      : droneLines(at.drones, generation + 1);
  return [her, ...dam, ...drones];
}

const STEP = 7;
const ROW = 5.4;
/** Lines of descent on the card; a mixture of many mothers must not push the story off. */
const MOST_LINES = 9;

function descent(sheet: Sheet, { descent: of }: QueenLeaf, y: number): number {
  const lines = queenLines(of, 0).slice(1, 1 + MOST_LINES);
  let at = heading(sheet, say('leaf.descent'), y);
  for (const { generation, words, code } of lines) {
    const x = LEFT + (generation - 1) * STEP;
    if (generation > 1) sheet.line([x - STEP + 1.5, at + 2], [x - 0.8, at + 2], { weight: 0.3 });
    // The type faces have no sign for male: several brothers are drawn as a row of small rounds.
    const isGroup = words.startsWith('♂♂ ');
    if (isGroup)
      for (const k of [0, 1, 2]) sheet.circle({ x: x + 1.4 + k * 2.2, y: at + 2, radius: 1 }, { weight: 0.3 });
    const shift = isGroup ? 8 : 0;
    sheet.write(words.replace(/^♂♂ /, ''), {
      x: x + shift,
      y: at,
      width: WIDTH - (x - LEFT) - shift,
      points: 11,
      face: code ? 'mono' : 'regular',
      lines: 1,
    });
    at += ROW;
  }
  return at + 1;
}

const whenWords = ({ day, latest }: StoryEvent): string =>
  day === null
    ? ''
    : latest === null || latest === day
      ? shortDay(day)
      : say('story.span', { from: shortDay(day), to: shortDay(latest) });

function story(sheet: Sheet, { story: events }: QueenLeaf, y: number): void {
  let at = heading(sheet, say('leaf.story'), y);
  const room = Math.max(0, Math.floor((BOTTOM - at) / ROW));
  for (const event of events.slice(-room)) {
    sheet.write(whenWords(event), { x: LEFT, y: at, width: 29, points: 11, lines: 1 });
    sheet.write(eventWords(event), { x: LEFT + 30, y: at, width: WIDTH - 30, points: 11, lines: 1 });
    at += ROW;
  }
  for (; at + 6 < BOTTOM; at += 7) sheet.line([LEFT, at + 6], [LEFT + WIDTH, at + 6], { weight: 0.2 });
}

function drawCard(sheet: Sheet, leaf: QueenLeaf): void {
  let y = identity(sheet, leaf);
  y = facts(sheet, leaf, y);
  y = descent(sheet, leaf, y);
  story(sheet, leaf, y);
}

/** The queen card, A6: who she is, what is behind her, what happened last; with lines to go on by hand. */
export const queenCard = paper({
  name: 'queen-card',
  form: 'application/pdf',
  question: queenLeaf,
  fileName: (leaf) => `${leaf === null ? 'queen' : called(leaf)}.pdf`,
  draw: (leaf) =>
    drawSheet(
      { title: leaf === null ? say('leaf.card') : called(leaf), size: sizes.a6, language: language() },
      (sheet) => {
        if (leaf === null) sheet.write(say('leaf.no-queen'), { x: LEFT, y: 10, width: WIDTH });
        else drawCard(sheet, leaf);
      },
    ),
});
