/** How long the server takes to be ready the second time, and to stop with a live page open. */
import { freshFolder, removeFolder, startServer } from '../../tests/support/running-server.ts';

const folder = freshFolder();
const first = performance.now();
const one = await startServer(folder);
const started = performance.now() - first;
await one.stop();
const times: number[] = [];
let stopped = 0;
for (let i = 0; i < 5; i++) {
  const from = performance.now();
  const server = await startServer(folder);
  times.push(performance.now() - from);
  const live = await fetch(`${server.url}/api/events`);
  const before = performance.now();
  await server.stop();
  stopped = Math.max(stopped, performance.now() - before);
  await live.body?.cancel().catch(() => {});
}
removeFolder(folder);
const worst = Math.max(...times);
console.log(
  `ready with a new book after ${started.toFixed(0)} ms; again after ${worst.toFixed(0)} ms (must be under 2,000)`,
);
console.log(`stopped with a live page open after at most ${stopped.toFixed(0)} ms (must be under 5,000)`);
process.exit(worst < 2_000 && stopped < 5_000 ? 0 : 1);
