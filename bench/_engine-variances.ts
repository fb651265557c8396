/** Rows of the bench: variances beside lme4, and the same bits on every number of threads. */
import { Worker } from 'node:worker_threads';
import { estimateVariances } from '#domain/worth/variances/variances.ts';
import { median, ratioRow, times } from './_measure.ts';
import { lme4, writeText } from './_references.ts';
import { add, rows, say, thousands } from './_rows.ts';
import { oneTrait, simulatePedigree, simulateRecords } from './_stock.ts';

export function variances(queens: number, goal: { must: number; aim: number }): void {
  const pedigree = simulatePedigree({ queens, mating: 'shared' });
  const records = simulateRecords(pedigree, oneTrait);
  const start = { ...oneTrait, G: Float64Array.of(0.6, 0, 0, 0.6), R: Float64Array.of(3) };
  let found = '';
  const ours = times(1, () => {
    const { G, R, logLikelihood } = estimateVariances(pedigree, records, start);
    found = `${G.flat()
      .map((v) => v.toFixed(3))
      .join(' ')}, residual ${R[0]?.[0]?.toFixed(3)}, log-likelihood ${logLikelihood?.toFixed(3) ?? 'not worked out'}`;
  });
  const { columns } = pedigree.stock;
  const lines = Array.from(records.queen, (queen, r) =>
    [records.factors[0]?.level[r], columns.dam[queen], columns.carries[queen], records.values[r]].join(','),
  );
  say(`variances, ${thousands(queens)} records: ${found}`);
  add(
    ratioRow(`variances, ${thousands(queens)} records`, {
      ours: median(ours),
      reference: lme4(writeText('records.csv', `class,dam,mate,y\n${lines.join('\n')}\n`)),
      referenceName: 'lme4, crossed model without kinship',
      ...goal,
    }),
  );
}

/** The same work on 1, 2 and 4 threads: every thread takes whole right-hand sides, so the bits cannot differ; checked all the same. */
export async function threads(): Promise<void> {
  const answers: string[] = [];
  for (const count of [1, 2, 4]) {
    const parts = await Promise.all(Array.from({ length: count }, (_, k) => partOf(k, count)));
    answers.push(parts.flat().sort().join());
  }
  const equal = answers.every((answer) => answer === answers[0]);
  rows.push({
    measure: 'answers on 1, 2 and 4 threads',
    ours: equal ? 'equal bit for bit' : 'DIFFERENT',
    reference: 'one thread',
    ratio: null,
    must: 'equal',
    aim: 'equal',
    held: equal,
    aimed: equal,
  });
  console.log(`threads: ${equal ? 'equal' : 'different'}`);
}

const partOf = (k: number, count: number): Promise<string[]> =>
  new Promise((resolve, reject) => {
    const file = JSON.stringify(new URL('./_thread.ts', import.meta.url).href);
    const start = `import('tsx/esm/api').then(({ register }) => { register(); return import(${file}); })`;
    const worker = new Worker(start, { eval: true, workerData: { k, count } });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
