#!/usr/bin/env node
/** The command line. Installs and builds what is missing first, with all of that output on standard error. */
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { build } from './scripts/lib/build.mjs';
import { install } from './scripts/lib/install.mjs';
import { largePages, wantsLargePages } from './scripts/lib/large-pages.mjs';
import { needNode } from './scripts/lib/need-node.mjs';

needNode();
const here = process.cwd();
process.chdir(new URL('.', import.meta.url).pathname);
install();
build();
// Paths on the command line are the caller's.
process.chdir(here);
const program = new URL('./dist/node/combwright.js', import.meta.url);
const words = process.argv.slice(2);
if (wantsLargePages(words)) run();
else await import(program.href);

/** Runs the command in a process that has large pages, as if it were this one: its streams, its signals, its exit. */
function run() {
  const child = spawn(process.execPath, [fileURLToPath(program), ...words], { stdio: 'inherit', env: largePages() });
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'];
  const forward = (signal) => child.kill(signal);
  for (const signal of signals) process.on(signal, forward);
  child.once('exit', (code, signal) => {
    for (const each of signals) process.off(each, forward);
    if (signal === null) process.exitCode = code ?? 1;
    else process.kill(process.pid, signal);
  });
}
