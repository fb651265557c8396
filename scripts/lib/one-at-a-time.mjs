/** A lock file, so that two processes never install or build at the same time. A lock whose owner is gone is taken over. */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';

const isAlive = (pid) => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
};

const wait = (milliseconds) => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, milliseconds);

function take(file) {
  try {
    writeFileSync(file, String(process.pid), { flag: 'wx' });
    return true;
  } catch (error) {
    if (error.code !== 'EEXIST') throw error;
  }
  const owner = (() => {
    try {
      return Number(readFileSync(file, 'utf8'));
    } catch {
      return 0;
    }
  })();
  if (owner > 0 && !isAlive(owner)) rmSync(file, { force: true });
  return false;
}

export function oneAtATime(name, work) {
  mkdirSync('.out', { recursive: true });
  const file = `.out/${name}.lock`;
  for (let waited = 0; !take(file); waited += 100) {
    if (waited === 2_000) console.error(`Combwright: waiting for another ${name} to finish …`);
    wait(100);
  }
  const release = () => rmSync(file, { force: true });
  process.once('exit', release);
  try {
    return work();
  } finally {
    process.off('exit', release);
    release();
  }
}
