/** Finds the tools that read a PDF back (pdftotext, pdftoppm), or installs Debian's when there are none and we may. */
import { existsSync } from 'node:fs';
import { sh, succeeds } from './run.mjs';

export function poppler() {
  if (succeeds('pdftotext', ['-v'])) return true;
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return false;
  console.error('Combwright: installing poppler-utils from Debian for the tests of papers …');
  const options = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }, stdio: ['ignore', 'ignore', 2] };
  sh('apt-get', ['update', '-qq'], options);
  sh('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'poppler-utils'], options);
  return true;
}
