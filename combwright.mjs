#!/usr/bin/env node
/** The command line. Installs and builds what is missing first, with all of that output on standard error. */
import { build } from './scripts/lib/build.mjs';
import { install } from './scripts/lib/install.mjs';
import { needNode } from './scripts/lib/need-node.mjs';

needNode();
const here = process.cwd();
process.chdir(new URL('.', import.meta.url).pathname);
install();
build();
// Paths on the command line are the caller's.
process.chdir(here);
await import('./dist/node/combwright.js');
