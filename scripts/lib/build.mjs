/** Builds the pages and the server when a source is newer than the last build; one process at a time. */
import { existsSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { oneAtATime } from './one-at-a-time.mjs';
import { sh, tool } from './run.mjs';

const stamp = 'dist/.built';
const alone = ['package-lock.json', 'package.json', 'vite.config.ts', 'rolldown.config.mjs', 'scripts/lib/build.mjs'];

function sources() {
  const inside = readdirSync('src', { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.name.endsWith('.test.ts') && entry.name !== 'kernels.wasm.ts')
    .map((entry) => join(entry.parentPath, entry.name));
  return [...inside, ...alone];
}

/** Files and their times: also a removed or an older file is a change. */
const state = () =>
  sources()
    .sort()
    .map((file) => `${file} ${statSync(file).mtimeMs}`)
    .join('\n');

const isBuilt = () => {
  if (!existsSync(stamp)) return false;
  const built = statSync(stamp).mtimeMs;
  return sources().every((file) => statSync(file).mtimeMs < built);
};

export function build() {
  if (isBuilt()) return;
  oneAtATime('build', () => {
    if (isBuilt()) return;
    const before = state();
    console.error('Combwright: building …');
    if (existsSync('scripts/build-kernels.mjs')) sh(process.execPath, ['scripts/build-kernels.mjs']);
    sh(tool('vite'), ['build', '--logLevel', 'warn']);
    // Its list of files goes to standard output, its errors to standard error.
    sh(tool('rolldown'), ['-c', 'rolldown.config.mjs'], { stdio: ['ignore', 'ignore', 2] });
    // A source saved while building is newer than this build only if the stamp says so.
    if (state() === before) writeFileSync(stamp, '');
  });
}
