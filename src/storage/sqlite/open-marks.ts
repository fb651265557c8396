import { existsSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

/**
 * Which processes have a file open, by a small file beside it that each leaves while it does. SQLite's own locks cannot
 * tell an idle connection of another process from one of this process that awaits the garbage collector.
 */
const openHere = new Map<string, number>();

const prefixOf = (file: string) => `.${basename(file)}.open-`;
const markOf = (file: string) => join(dirname(file), `${prefixOf(file)}${process.pid}`);

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Says that this process has the file open; the answer says that it no longer has. */
export function markOpen(file: string): () => void {
  openHere.set(file, (openHere.get(file) ?? 0) + 1);
  writeFileSync(markOf(file), '');
  let marked = true;
  return () => {
    if (!marked) return;
    marked = false;
    const left = (openHere.get(file) ?? 1) - 1;
    openHere.set(file, left);
    if (left === 0) rmSync(markOf(file), { force: true });
  };
}

/** True while this process or another living one has the file open. Marks of processes that ended are taken away. */
export function isOpen(file: string): boolean {
  if ((openHere.get(file) ?? 0) > 0) return true;
  const folder = dirname(file);
  if (!existsSync(folder)) return false;
  const prefix = prefixOf(file);
  let open = false;
  for (const name of readdirSync(folder).filter((each) => each.startsWith(prefix))) {
    const pid = Number(name.slice(prefix.length));
    if (pid !== process.pid && isAlive(pid)) open = true;
    else rmSync(join(folder, name), { force: true });
  }
  return open;
}
