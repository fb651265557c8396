import { layingRound, type RoundNuc } from '#questions/yard/laying-round.ts';
import type { Day } from '#units/calendar-day.ts';
import { language, say, sayAny } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, sizes } from '../sheet.ts';
import { drawRound, type SheetRow } from './round-page.ts';

/** What can be ticked, in the order of the screen. */
const sights = [
  'no-eggs',
  'eggs',
  'several-in-a-cell',
  'worker-caps',
  'drone-caps',
  'queen-cells',
  'another-queen',
  'queen-gone',
  'not-opened',
] as const;

/** "Day 12, cross B: look for eggs". */
function beside({ inseminated, next }: RoundNuc): string {
  const day = inseminated === null ? '' : say('round.day', { day: inseminated.days });
  const cross = inseminated?.cross == null ? '' : say('round.cross', { cross: inseminated.cross });
  const look = next === null ? '' : sayAny(`colony.next.${next.key}`);
  return [day, cross, look].filter(Boolean).join(', ');
}

const rowOf = (nuc: RoundNuc): SheetRow => ({ nuc: nuc.code, queen: nuc.head, beside: beside(nuc) });

/** The nucs a sheet holds: those to be opened; all with a queen when none is due. */
const wanted = (nucs: readonly RoundNuc[]): readonly RoundNuc[] => {
  const due = nucs.filter((nuc) => nuc.due);
  return due.length > 0 ? due : nucs;
};

/** The paper twin of the laying round: A4, circles of 12 mm, entered again by exception. */
export const roundSheet = paper({
  name: 'round-sheet',
  form: 'application/pdf',
  question: layingRound,
  draw: ({ nucs, today }) =>
    drawSheet({ title: say('sheet.round'), size: sizes.a4, language: language() }, (sheet) => {
      const rows = wanted(nucs);
      const yards = [...new Set(rows.map(({ yard }) => yard?.name ?? say('yard.no-yard')))];
      drawRound(sheet, {
        title: say('sheet.round'),
        under: [`${say('sheet.day')} ${today}`, ...yards].join(' · '),
        code: sheetCode(today, rows),
        choices: sights.map((sight) => sayAny(`sight.${sight}`)),
        rows: rows.map(rowOf),
      });
    }),
  fileName: ({ today }) => `round-sheet-${today}.pdf`,
});

/** What the code of a sheet says: the day, and the first and last nuc. */
export function sheetCode(today: Day, rows: readonly { code: string }[]): string {
  const [first, last] = [rows[0]?.code ?? '', rows.at(-1)?.code ?? ''];
  return `R ${today} ${first} ${last}`.trim();
}
