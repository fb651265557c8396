/** npm start: installs and builds what is missing, then serves until Ctrl-C. Uses only Node built-ins before that. */
import { build } from './lib/build.mjs';
import { install } from './lib/install.mjs';
import { needNode } from './lib/need-node.mjs';

needNode();
process.chdir(new URL('..', import.meta.url).pathname);
install();
build();
process.argv = [process.argv[0], 'dist/node/combwright.js', 'start'];
await import('../dist/node/combwright.js');
