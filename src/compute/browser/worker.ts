/** The Web Worker: the same computations as a worker thread, beside a page that goes on answering. */
import { atMostTenASecond } from '../at-most-ten-a-second.ts';
import { compute, type Job, type Reply } from '../computations.ts';

/** What is used of a dedicated worker's global scope. */
type Scope = { onmessage: ((event: { data: Job }) => void) | null; postMessage(reply: Reply): void };
const scope = globalThis as unknown as Scope;

scope.onmessage = async ({ data: { name, facts } }) => {
  const progress = atMostTenASecond((done, whole) => scope.postMessage({ progress: [done, whole] }), Date.now);
  try {
    scope.postMessage({ answer: await compute({ name, facts, progress }) });
  } catch (error) {
    scope.postMessage({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
};
