/** npm run quick [-- FILES]: the unit tests and, where PostgreSQL is installed, the store contract on it. Under a minute. */
import { spawnSync } from 'node:child_process';
import { install } from './lib/install.mjs';
import { startPostgres } from './lib/postgres.mjs';
import { tool } from './lib/run.mjs';

process.chdir(new URL('..', import.meta.url).pathname);
install();
const server = await startPostgres();
const env = { ...process.env, ...(server.url ? { COMBWRIGHT_TEST_POSTGRES: server.url } : {}) };
const result = spawnSync(tool('vitest'), ['run', ...process.argv.slice(2)], { stdio: 'inherit', env });
server.stop?.();
process.exit(result.status ?? 1);
