/** Starting other programs: only Node built-ins, because node_modules may not exist yet. */
import { spawnSync } from 'node:child_process';

const windows = process.platform === 'win32';

/** Runs a program to its end; its output goes to standard error unless told otherwise. Ends this process when it fails. */
export function sh(command, args, options = {}) {
  const result = spawnSync(command, args, { stdio: ['ignore', 2, 2], shell: windows, ...options });
  if (result.status === 0) return result;
  console.error(`failed: ${command} ${args.join(' ')} (${result.error?.message ?? result.status ?? result.signal})`);
  process.exit(1);
}

/** Runs a program and tells whether it succeeded. */
export const succeeds = (command, args, options = {}) =>
  spawnSync(command, args, { stdio: 'ignore', shell: windows, ...options }).status === 0;

/** The path of a tool that npm installed. */
export const tool = (name) => `node_modules/.bin/${name}${windows ? '.cmd' : ''}`;
