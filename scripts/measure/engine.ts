/**
 * 200,000 queens and 140,000 records from CSV to ranking, by one command (time and peak memory) and in a worker of a real browser while the page
 * answers; and the twenty stocks of tests/statistical at full size. Printed, not in CI: a busy machine makes the times say little.
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { join, resolve } from 'node:path';
import { chromium } from '@playwright/test';
import { rolldown } from 'rolldown';
import { oneTrait, simulatePedigree, simulateRecords } from '../../bench/_stock.ts';
import { modelFile, queensTable, recordsTable } from '../../bench/_tables.ts';
import { compareWithGeneDrops } from '../../tests/oracles/compare-kinship.ts';

const QUEENS = 200_000;
const RECORDED = 0.7;
/** Longest the page may go without a frame, milliseconds. */
const LONGEST_FRAME = 250;
const folder = resolve('.out/measure-engine');
mkdirSync(folder, { recursive: true });
const file = (name: string) => join(folder, name);
let held = true;
const say = (isHeld: boolean, text: string) => {
  held &&= isHeld;
  console.log(`${isHeld ? 'held' : 'NOT held'}: ${text}`);
};

function writeStock(): void {
  const pedigree = simulatePedigree({ queens: QUEENS, mating: 'shared', cohorts: 20 });
  const records = simulateRecords(pedigree, oneTrait, { share: RECORDED });
  const { queens, semen } = queensTable(pedigree);
  writeFileSync(file('QUEENS.csv'), queens);
  writeFileSync(file('SEMEN.csv'), semen);
  writeFileSync(file('RECORDS.csv'), recordsTable(pedigree, records, oneTrait));
  writeFileSync(file('MODEL.json'), modelFile(oneTrait));
  console.log(`${QUEENS} queens, ${records.count} records written`);
}

/** Peak resident memory of a process and those it started, in MB, as the kernel counts it; 0 where there is no /proc. */
function peakOf(pid: number): number {
  try {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    const own = Number(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024;
    const tasks = readdirSync(`/proc/${pid}/task`);
    const children = tasks.flatMap((task) =>
      readFileSync(`/proc/${pid}/task/${task}/children`, 'utf8').trim().split(/\s+/).filter(Boolean),
    );
    return Math.max(own, ...children.map((child) => peakOf(Number(child))));
  } catch {
    return 0;
  }
}

async function byCommand(): Promise<void> {
  const flags = ['--queens', 'QUEENS.csv', '--semen', 'SEMEN.csv', '--records', 'RECORDS.csv', '--model', 'MODEL.json'];
  const args = ['breeding-values', ...flags.map((word) => (word.startsWith('--') ? word : file(word))), '--json'];
  spawnSync(process.execPath, ['combwright.mjs', '--help'], { stdio: 'ignore' }); // builds, which is not measured
  const from = performance.now();
  const child = spawn(process.execPath, ['combwright.mjs', ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
  let peak = 0;
  let length = 0;
  const watch = setInterval(() => {
    peak = Math.max(peak, peakOf(child.pid ?? 0));
  }, 20);
  child.stdout.on('data', (piece: Uint8Array) => {
    length += piece.length;
  });
  const status = await new Promise<number | null>((done) => child.on('close', done));
  clearInterval(watch);
  const seconds = ((performance.now() - from) / 1000).toFixed(1);
  say(
    status === 0 && length > 1e7,
    `combwright breeding-values, CSV to ${(length / 1e6).toFixed(0)} MB of JSON: ${seconds} s, peak memory ${peak.toFixed(0)} MB`,
  );
}

async function bundled(input: string): Promise<string> {
  const bundle = await rolldown({
    input: resolve(input),
    platform: 'browser',
    external: ['highs', /season-solver/],
    resolve: { mainFields: ['module', 'main'] },
  });
  const { output } = await bundle.generate({ format: 'esm' });
  return output[0].code;
}

const PAGE = `<!doctype html><title>engine</title><script type="module">
import { computeInWebWorkers } from '/web-workers.js';
const compute = computeInWebWorkers(() => new Worker('/worker.js', { type: 'module' }));
const bytes = async (name) => ({ name, bytes: new Uint8Array(await (await fetch('/' + name)).arrayBuffer()) });
window.rank = async () => {
  const files = { queens: await bytes('QUEENS.csv'), semen: await bytes('SEMEN.csv'), records: await bytes('RECORDS.csv'), model: await bytes('MODEL.json') };
  let [longest, last, running, frames] = [0, performance.now(), true, 0];
  const frame = () => { const now = performance.now(); longest = Math.max(longest, now - last); last = now; frames++; if (running) requestAnimationFrame(frame); };
  const from = performance.now();
  last = from; requestAnimationFrame(frame);
  const steps = [];
  const answer = await compute.run('rank-files', files, { progress: (done) => steps.push(done) });
  running = false;
  return { ms: performance.now() - from, longest, frames, steps: steps.length, queens: answer.queens, records: answer.records,
    problems: answer.problems, first: answer.best.yield[0], error: answer.reliabilityError };
};
window.stop = async () => {
  const files = { queens: await bytes('QUEENS.csv'), semen: await bytes('SEMEN.csv'), records: await bytes('RECORDS.csv'), model: await bytes('MODEL.json') };
  const stopping = new AbortController();
  setTimeout(() => stopping.abort(), 200);
  return compute.run('rank-files', files, { signal: stopping.signal }).then(() => 'went on', (error) => error.name);
};
</script>`;

type Ranked = {
  ms: number;
  longest: number;
  frames: number;
  steps: number;
  queens: number;
  records: number;
  first: { queen: string; asMotherOfQueens: number; reliability: number };
  error: { rootMeanSquare: number } | null;
};

async function inBrowser(): Promise<void> {
  const scripts: Record<string, string> = {
    '/web-workers.js': await bundled('src/compute/browser/web-workers.ts'),
    '/worker.js': await bundled('src/compute/browser/worker.ts'),
  };
  const server = createServer((request, response) => {
    const path = request.url ?? '/';
    const script = scripts[path];
    if (path !== '/' && script === undefined && !existsSync(file(path.slice(1)))) {
      response.writeHead(404).end();
      return;
    }
    response.setHeader('Content-Type', path === '/' ? 'text/html' : script ? 'text/javascript' : 'text/csv');
    response.end(path === '/' ? PAGE : (script ?? readFileSync(file(path.slice(1)))));
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM_PATH ?? '', args: ['--no-sandbox'] });
  const page = await browser.newPage();
  page.on('pageerror', (error) => console.log(error.message));
  await page.goto(`http://127.0.0.1:${port}/`);
  await page.waitForFunction('window.rank !== undefined');
  const found = (await page.evaluate('window.rank()')) as Ranked;
  say(
    found.queens === QUEENS && found.first.reliability > 0,
    `in a browser worker: ${found.queens} queens, ${found.records} records to ranking in ${(found.ms / 1000).toFixed(1)} s, ${found.steps} steps of progress; best ${found.first.queen} at ${found.first.asMotherOfQueens.toFixed(2)}`,
  );
  say(
    found.longest < LONGEST_FRAME,
    `meanwhile the page drew ${found.frames} frames, the longest gap ${found.longest.toFixed(0)} ms (aim ${LONGEST_FRAME})`,
  );
  const stopped = await page.evaluate('window.stop()');
  say(stopped === 'AbortError', `stopped after 0.2 s: ${stopped}`);
  await browser.close();
  server.close();
}

writeStock();
await byCommand();
await inBrowser();
const drops = await compareWithGeneDrops({ stocks: 20, replicates: 6000 });
say(
  drops.largest <= 5 && drops.meanSquare > 0.9 && drops.meanSquare < 1.1,
  `kinship --all on 20 random stocks beside dropped genes: ${drops.count} numbers, largest |z| ${drops.largest.toFixed(2)}, mean z² ${drops.meanSquare.toFixed(3)}`,
);
process.exit(held ? 0 : 1);
