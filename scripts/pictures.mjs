/** npm run pictures: takes the pictures of docs/first-season.md anew, from the product walking its whole-season journey. */
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { build } from './lib/build.mjs';
import { chromium } from './lib/chromium.mjs';
import { install } from './lib/install.mjs';
import { tool } from './lib/run.mjs';

process.chdir(new URL('..', import.meta.url).pathname);
install();
const browser = chromium();
if (browser === null) throw new Error('no Chromium here and no rights to install it');
build();
const taken = '.out/guide';
const kept = 'docs/pictures';
rmSync(taken, { recursive: true, force: true });
const env = { ...process.env, CHROMIUM_PATH: browser, COMBWRIGHT_PICTURES: taken };
const { status } = spawnSync(tool('playwright'), ['test', 'tests/journeys/whole-season.journey.ts'], {
  stdio: 'inherit',
  env,
});
if (status !== 0) process.exit(status ?? 1);

const guide = readFileSync('docs/first-season.md', 'utf8') + readFileSync('README.md', 'utf8');
rmSync(kept, { recursive: true, force: true });
mkdirSync(kept, { recursive: true });
for (const name of readdirSync(taken))
  if (guide.includes(`pictures/${name}`)) copyFileSync(`${taken}/${name}`, `${kept}/${name}`);
console.log(`${readdirSync(kept).length} pictures in ${kept}`);
