/** Finds Chromium, or installs Debian's when there is none and we may. */
import { existsSync } from 'node:fs';
import { sh } from './run.mjs';

const usual = [
  process.env.CHROMIUM_PATH,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

export function chromium() {
  const found = usual.find((path) => path && existsSync(path));
  if (found) return found;
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return null;
  console.error('Combwright: installing Chromium from Debian for the browser tests …');
  const options = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }, stdio: ['ignore', 'ignore', 2] };
  sh('apt-get', ['update', '-qq'], options);
  sh('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], options);
  return '/usr/bin/chromium';
}
