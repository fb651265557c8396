import { chmodSync, mkdirSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';

type Environment = Readonly<Record<string, string | undefined>>;

function userDataFolder(env: Environment, platform: string): string {
  if (platform === 'win32') return join(env.APPDATA ?? join(homedir(), 'AppData', 'Roaming'), 'Combwright');
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Combwright');
  return join(env.XDG_DATA_HOME ?? join(homedir(), '.local', 'share'), 'combwright');
}

/** The folder of the database: COMBWRIGHT_DATA, or the user's data folder. Made when absent, closed to other users. */
export function dataFolder(env: Environment = process.env, platform: string = process.platform): string {
  const folder = env.COMBWRIGHT_DATA || userDataFolder(env, platform);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  if (platform !== 'win32') chmodSync(folder, 0o700);
  return folder;
}

/** The database file inside a data folder. */
export const bookFile = (folder: string): string => join(folder, 'combwright.sqlite');
