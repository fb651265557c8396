/** npm run check: format and lint, types, pure types, layers, unused code. Every failure says what to do instead. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { install } from './lib/install.mjs';
import { sh, tool } from './lib/run.mjs';

process.chdir(new URL('..', import.meta.url).pathname);
install();
if (existsSync('scripts/build-kernels.mjs')) sh(process.execPath, ['scripts/build-kernels.mjs']);
const checks = [
  ['format and lint', 'biome', ['ci', '--colors=off', '--error-on-warnings', '.'], 'npm run format mends most of it'],
  ['types', 'tsc', ['-p', 'tsconfig.json'], 'the line says which file'],
  ['pure types', 'tsc', ['-p', 'tsconfig.pure.json'], 'pure folders know no Node, DOM, timers or console'],
  ['layers', 'depcruise', ['--config', '.dependency-cruiser.mjs', 'src'], 'see layers.mjs'],
  ['unused code', 'knip', [], 'delete what is dead'],
];
const env = { ...process.env, NO_COLOR: '1', FORCE_COLOR: '0' };
let failed = 0;
for (const [name, command, args, remedy] of checks) {
  const { status, stdout, stderr } = spawnSync(tool(command), args, { encoding: 'utf8', env });
  if (status === 0) console.error(`ok      ${name}`);
  else {
    failed++;
    console.error(`FAILED  ${name} (${remedy})\n${stdout}${stderr}`);
  }
}
process.exit(failed === 0 ? 0 : 1);
