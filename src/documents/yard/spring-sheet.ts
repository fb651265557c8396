import { type SpringQueen, springRound } from '#questions/yard/spring-round.ts';
import { language, say } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, sizes } from '../sheet.ts';
import { drawRound, type SheetRow } from './round-page.ts';

const rowOf = ({ queen, nuc, breaks }: SpringQueen): SheetRow => ({
  nuc: nuc?.code ?? '–',
  queen,
  beside: breaks.map(({ cross }) => say('cross.named', { code: cross.code })).join(', '),
});

/** The paper twin of the spring check: only queens the coming crosses need, in walking order. */
export const springSheet = paper({
  name: 'spring-sheet',
  form: 'application/pdf',
  question: springRound,
  draw: ({ queens, today }) =>
    drawSheet({ title: say('sheet.spring'), size: sizes.a4, language: language() }, (sheet) =>
      drawRound(sheet, {
        title: say('sheet.spring'),
        under: `${say('sheet.day')} ${today}`,
        code: `P ${today}`,
        choices: [
          say('spring.seen'),
          say('spring.eggs-only'),
          say('spring.another'),
          say('spring.gone'),
          say('spring.not-opened'),
        ],
        rows: queens.map(rowOf),
      }),
    ),
  fileName: ({ today }) => `spring-sheet-${today}.pdf`,
});
