import { atMostTenASecond } from '../at-most-ten-a-second.ts';
import { compute, type Job, type Reply } from '../computations.ts';
import { type Brings, bringing, Unreachable } from './bringing.ts';

/** A job with what the worker is to fetch for itself. */
export type WebJob = Job & { brings?: Brings | undefined; fresh?: boolean | undefined };
export type WebReply = Reply | { unreachable: string };

const scope = self as unknown as DedicatedWorkerGlobalScope;
const tell = (reply: WebReply) => scope.postMessage(reply);
const bring = bringing((path) => fetch(path));

scope.onmessage = async ({ data: { name, facts, brings, fresh } }: MessageEvent<WebJob>) => {
  const progress = atMostTenASecond((done, whole) => tell({ progress: [done, whole] }), Date.now);
  try {
    const all = brings === undefined ? facts : { ...(facts as object), ...(await bring(brings, fresh)) };
    tell({ answer: await compute({ name, facts: all, progress }) });
  } catch (error) {
    if (error instanceof Unreachable) tell({ unreachable: error.message });
    else tell({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
};
