/** npm run build */
import { build } from './lib/build.mjs';
import { install } from './lib/install.mjs';

process.chdir(new URL('..', import.meta.url).pathname);
install();
build();
