/** Installs what the lock file names, when it is not installed; one process at a time. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { oneAtATime } from './one-at-a-time.mjs';
import { sh } from './run.mjs';

const stamp = 'node_modules/.lock-hash';

const lockHash = () => createHash('sha256').update(readFileSync('package-lock.json')).digest('hex');
export const isInstalled = () => existsSync(stamp) && readFileSync(stamp, 'utf8') === lockHash();

export function install() {
  if (isInstalled()) return;
  oneAtATime('install', () => {
    if (isInstalled()) return;
    console.error('Combwright: installing what it needs (once) …');
    sh('npm', ['ci', '--no-audit', '--no-fund']);
    writeFileSync(stamp, lockHash());
  });
}
