import { benchPapers } from './bench/all.ts';
import { crossesPapers } from './crosses/all.ts';
import type { Paper } from './paper.ts';
import { rearingPapers } from './rearing/all.ts';
import { semenPapers } from './semen/all.ts';
import { stockPapers } from './stock/all.ts';
import { yardPapers } from './yard/all.ts';

/** Every paper and file the product draws. */
const everyPaper = [
  ...stockPapers,
  ...crossesPapers,
  ...rearingPapers,
  ...semenPapers,
  ...benchPapers,
  ...yardPapers,
] as unknown as readonly Paper[];

export const papers: ReadonlyMap<string, Paper> = new Map(everyPaper.map((each) => [each.name, each]));
