import { parentPort } from 'node:worker_threads';
import { atMostTenASecond } from '../at-most-ten-a-second.ts';
import { compute, type Job, type Reply } from '../computations.ts';
import { nodeComputations } from './computations.ts';

const tell = (reply: Reply) => parentPort?.postMessage(reply);

parentPort?.on('message', async ({ name, facts }: Job) => {
  const progress = atMostTenASecond((done, whole) => tell({ progress: [done, whole] }), Date.now);
  try {
    tell({ answer: await compute({ name, facts, progress }, nodeComputations) });
  } catch (error) {
    tell({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
