/**
 * npm run bench [-- NAME … --references]: every program in bench/, which prints ratios to a reference in the same run.
 * `--references` lets a bench install the outside references it needs (R, a compiler's libraries) from Debian.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { install } from './lib/install.mjs';
import { largePages } from './lib/large-pages.mjs';

process.chdir(new URL('..', import.meta.url).pathname);
install();
if (existsSync('scripts/build-kernels.mjs'))
  spawnSync(process.execPath, ['scripts/build-kernels.mjs'], { stdio: 'inherit' });
const words = process.argv.slice(2);
const wanted = words.filter((word) => !word.startsWith('--'));
const flags = words.filter((word) => word.startsWith('--'));
const all = readdirSync('bench').filter((name) => name.endsWith('.ts') && !name.startsWith('_'));
for (const name of all.filter((each) => wanted.length === 0 || wanted.some((want) => each.startsWith(want)))) {
  console.log(`\n── bench/${name}`);
  // as the commands run, see combwright.mjs; the outside programs get the same
  const { status } = spawnSync(process.execPath, ['--import', 'tsx', `bench/${name}`, ...flags], {
    stdio: 'inherit',
    env: largePages(),
  });
  if (status !== 0) process.exitCode = 1;
}
