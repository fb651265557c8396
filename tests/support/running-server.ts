import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export type Running = {
  url: string;
  folder: string;
  process: ChildProcess;
  /** Kills it without warning, as a power cut would. */
  kill(): Promise<void>;
  /** Ends it as Ctrl-C does; gives the exit status. */
  stop(): Promise<number | null>;
};

const READY = /^Combwright is ready at (http:\/\/127\.0\.0\.1:\d+)$/m;

const ended = (child: ChildProcess) =>
  new Promise<number | null>((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) resolve(child.exitCode);
    else child.once('exit', (code) => resolve(code));
  });

/** A fresh, empty data folder. */
export const freshFolder = (): string => mkdtempSync(join(tmpdir(), 'combwright-data-'));
export const removeFolder = (folder: string): void => rmSync(folder, { recursive: true, force: true });

/** Starts the built server on a data folder and waits until it says it is ready. */
export async function startServer(folder: string, env: Record<string, string> = {}): Promise<Running> {
  const child = spawn(process.execPath, ['dist/node/combwright.js', 'start'], {
    env: { ...process.env, PORT: '0', BROWSER: 'none', COMBWRIGHT_DATA: folder, DATABASE_URL: '', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  const url = await new Promise<string>((resolve, reject) => {
    const late = setTimeout(() => reject(new Error(`no ready line within 20 s; it said: ${said}`)), 20_000);
    const hear = (part: Buffer) => {
      said += part.toString();
      const ready = READY.exec(said)?.[1];
      if (ready === undefined) return;
      clearTimeout(late);
      resolve(ready);
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.once('exit', (code) => {
      clearTimeout(late);
      reject(new Error(`ended with ${code} before it was ready; it said: ${said}`));
    });
  });
  return {
    url,
    folder,
    process: child,
    async kill() {
      child.kill('SIGKILL');
      await ended(child);
    },
    async stop() {
      child.kill('SIGINT');
      return ended(child);
    },
  };
}
