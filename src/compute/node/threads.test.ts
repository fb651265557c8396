import { describe, expect, it } from 'vitest';
import { computeInThreads } from './threads.ts';

/** A worker that answers with the name it was given; one asked to `hang` never answers. */
const worker = new URL(
  `data:text/javascript,${encodeURIComponent(
    "import { parentPort } from 'node:worker_threads';" +
      "parentPort.on('message', ({ name }) => { if (name !== 'hang') parentPort.postMessage({ answer: name }); });",
  )}`,
);

const stoppable = () => {
  const control = new AbortController();
  return { stop: () => control.abort(), options: { signal: control.signal } };
};
const nameOf = (error: unknown) => (error as Error).name;

describe('computing in threads', () => {
  it('ends work that is stopped, and what waits goes on', async () => {
    const compute = computeInThreads(worker, 1);
    const { stop, options } = stoppable();
    const hanging = compute.run('hang', null, options).catch(nameOf);
    const next = compute.run('next', null);
    stop();
    expect(await hanging).toBe('AbortError');
    expect(await next).toBe('next');
  });

  it('lets go of work that is stopped before its turn, at once, and keeps the turn of the others', async () => {
    const compute = computeInThreads(worker, 1);
    const [first, second] = [stoppable(), stoppable()];
    const hanging = compute.run('hang', null, first.options).catch(nameOf);
    const waiting = compute.run('waiting', null, second.options).catch(nameOf);
    const last = compute.run('last', null);
    second.stop();
    expect(await waiting).toBe('AbortError');
    first.stop();
    expect(await hanging).toBe('AbortError');
    expect(await last).toBe('last');
    expect(await compute.run('after', null)).toBe('after');
  });

  it('begins nothing for who has stopped already', async () => {
    const { stop, options } = stoppable();
    stop();
    expect(await computeInThreads(worker, 1).run('never', null, options).catch(nameOf)).toBe('AbortError');
  });
});
