import type { StockTold } from '#domain/worth/stock-told.ts';
import { worthFacts } from '#questions/stock/worth-facts.ts';
import type { RunLine } from '#questions/stock/worth-runs.ts';
import { answerOf, keptUnder, useDeskQuestion } from '../../link/computed.ts';
import { today } from '../../link/this-device.ts';

/** The stock as it is now, fetched by the worker that works with it. */
export const theStock = () => ({ stock: answerOf(worthFacts, { today: today() }) });

/** What a run was worked out from. */
export const inputOfRun = ({ input }: RunLine) => ({ input: keptUnder(input) });
/** What came out of a run. */
export const answerOfRun = ({ answer }: RunLine) => ({ answer: keptUnder(answer) });

/** The stock in short; the whole of it never comes to the page. */
export const useStockTold = () =>
  useDeskQuestion<StockTold, Parameters<typeof worthFacts.answer>[1]>(
    worthFacts,
    { today: today() },
    {
      name: 'stock-told',
      as: 'stock',
    },
  );
