/** What the measures of the bench share: a real Chromium that can be killed, a station, a pedal. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import type { Running } from './running-server.ts';

/** Does one act over HTTP; gives its result. */
export async function does(
  server: Running,
  name: string,
  input: unknown,
): Promise<{ id: string } & Record<string, unknown>> {
  const response = await fetch(`${server.url}/api/act/${name}`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ input, happened: true }),
  });
  const { result, problems } = (await response.json()) as { result?: { id: string }; problems?: unknown };
  if (result === undefined || result === null) throw new Error(`${name}: ${JSON.stringify(problems)}`);
  return result;
}

export async function asks<A>(server: Running, name: string, input: unknown): Promise<A> {
  const response = await fetch(`${server.url}/api/ask/${name}?input=${encodeURIComponent(JSON.stringify(input))}`);
  return ((await response.json()) as { answer: A }).answer;
}

const daysAgo = (days: number) => new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);

export type BenchStation = { day: string; cross: string; queens: string[]; stranger: string };

/** An invented station with so many virgins queued in cages 1, 2, 3 …, semen enough for all, and one queen of another cross in cage 900. */
export async function station(server: Running, queens: number): Promise<BenchStation> {
  const dam = (await does(server, 'record-queen', { queen: { code: 'D-1', emerged: daysAgo(400) } })).id;
  const mother = (await does(server, 'record-queen', { queen: { code: 'M-1', emerged: daysAgo(400) } })).id;
  const other = (await does(server, 'record-queen', { queen: { code: 'N-1', emerged: daysAgo(400) } })).id;
  const planned = async (code: string, of: string) => {
    const cross = { code, queens_wanted: queens, dose_ul: 8, inseminate_on: daysAgo(0) };
    const plan = { cross, dams: [dam], drone_sources: [{ queen: of }], drones_there: true, virgins_there: true };
    return (await does(server, 'plan-cross', plan)).id;
  };
  const cross = await planned('B', mother);
  const foreign = await planned('A', other);
  const ids: string[] = [];
  for (let i = 1; i <= queens; i++) {
    const queen = { code: `27-${String(i).padStart(3, '0')}`, emerged: daysAgo(8) };
    ids.push((await does(server, 'record-queen', { queen })).id);
  }
  const stranger = (await does(server, 'record-queen', { queen: { code: '27-900', emerged: daysAgo(8) } })).id;
  const semen = queens * 8 + 20;
  const into = [{ new: { code: 'C-1' }, start: 0, end: semen }];
  await does(server, 'tally-drones', { gave: semen, sources: [{ mother }], into });
  const day = (await does(server, 'open-bench-day', {})).id;
  const queue = ids.map((queen, i) => ({ queen, cage: String(i + 1) }));
  await does(server, 'queue-queens', { bench_day: day, cross, queens: queue });
  await does(server, 'queue-queens', { bench_day: day, cross: foreign, queens: [{ queen: stranger, cage: '900' }] });
  return { day, cross, queens: ids, stranger };
}

/** A Chromium of our own on a folder of its own, so that it can be killed as a power cut would and opened again on the same disk. */
export type Killable = { browser: Browser; page: Page; kill(): Promise<void> };

const flags = [
  '--headless=new',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--remote-debugging-port=0',
];

const died = (child: ChildProcess) =>
  new Promise<void>((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) resolve();
    else child.once('exit', () => resolve());
  });

export const freshDisk = (): string => mkdtempSync(join(tmpdir(), 'combwright-chromium-'));
export const removeDisk = (folder: string): void => rmSync(folder, { recursive: true, force: true, maxRetries: 5 });

export async function openChromium(disk: string): Promise<Killable> {
  const path = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';
  const child = spawn(path, [...flags, `--user-data-dir=${disk}`, 'about:blank'], {
    detached: true,
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const endpoint = await new Promise<string>((resolve, reject) => {
    let said = '';
    child.stderr.on('data', (part: Buffer) => {
      said += part.toString();
      const found = /DevTools listening on (ws:\/\/\S+)/.exec(said)?.[1];
      if (found !== undefined) resolve(found);
    });
    child.once('exit', () => reject(new Error(`Chromium ended: ${said.slice(-400)}`)));
  });
  const browser = await chromium.connectOverCDP(endpoint);
  const context = browser.contexts()[0] ?? (await browser.newContext());
  const page = context.pages()[0] ?? (await context.newPage());
  await page.setViewportSize({ width: 1280, height: 800 });
  return {
    browser,
    page,
    async kill() {
      // The whole group that this program started, at once, as a power cut would.
      if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
      await died(child);
      await browser.close().catch(() => {});
    },
  };
}

/** A pedal: down, up, and the lock-out of the grammar. */
export async function press(page: Page): Promise<void> {
  await page.keyboard.down('Space');
  await page.waitForTimeout(80);
  await page.keyboard.up('Space');
  await page.waitForTimeout(410);
}

/** How many queens the board shows as done. */
export async function shownDone(page: Page): Promise<number> {
  const words = (await page.locator('.board-dots .count').textContent()) ?? '';
  return Number(/^(\d+) of/.exec(words)?.[1] ?? Number.NaN);
}

export const percentile = (all: readonly number[], share: number): number => {
  const sorted = [...all].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
};
