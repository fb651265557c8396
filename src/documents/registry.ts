import type { Paper } from './paper.ts';

/** Every paper and file the product draws. */
const everyPaper: readonly Paper[] = [];

export const papers: ReadonlyMap<string, Paper> = new Map(everyPaper.map((each) => [each.name, each]));
