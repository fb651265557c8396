import { atMostTenASecond } from '../at-most-ten-a-second.ts';
import { compute, type Job, type Reply } from '../computations.ts';

const scope = self as unknown as DedicatedWorkerGlobalScope;
const tell = (reply: Reply) => scope.postMessage(reply);

scope.onmessage = async ({ data: { name, facts } }: MessageEvent<Job>) => {
  const progress = atMostTenASecond((done, whole) => tell({ progress: [done, whole] }), Date.now);
  try {
    tell({ answer: await compute({ name, facts, progress }) });
  } catch (error) {
    tell({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
};
