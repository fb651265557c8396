/** npm run measure [-- NAME …]: long and timed checks, printed, not part of CI. Each is a program in scripts/measure/. */
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { build } from './lib/build.mjs';
import { chromium } from './lib/chromium.mjs';
import { install } from './lib/install.mjs';

process.chdir(new URL('..', import.meta.url).pathname);
install();
build();
const wanted = process.argv.slice(2);
const all = readdirSync('scripts/measure').filter((name) => /\.(mjs|ts)$/.test(name));
const chosen = all.filter((name) => wanted.length === 0 || wanted.some((each) => name.startsWith(each)));
const env = { ...process.env, CHROMIUM_PATH: chromium() ?? '' };
let failed = 0;
for (const name of chosen) {
  console.log(`\n── ${name}`);
  const { status } = spawnSync(process.execPath, ['--import', 'tsx', `scripts/measure/${name}`], {
    stdio: 'inherit',
    env,
  });
  if (status !== 0) failed++;
}
console.log(`\n${chosen.length} measures, ${failed} not held`);
process.exit(failed === 0 ? 0 : 1);
