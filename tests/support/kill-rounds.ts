import { join } from 'node:path';
import { randomStream } from '#numeric/random/random-stream.ts';
import { examineSqlite } from '#storage/sqlite/examine.ts';
import { uuid7 } from '#units/record-id.ts';
import { openStore } from '../../src/main/open-store.ts';
import { freshFolder, removeFolder, startServer } from './running-server.ts';

export type KillReport = {
  kills: number;
  acknowledged: number;
  lost: number;
  notOnce: number;
  damaged: number;
  failedStarts: number;
};

type Sent = { id: string; code: string; acknowledged: boolean };

/** A round kills after so many acknowledged acts at most, and so many milliseconds later at most; a server that acknowledges nothing is killed too. */
const MOST_ACTS = 12;
const MOST_LATER = 25;
const PATIENCE = 10_000;

/**
 * Kills the server without warning at random moments while a client records acts one after the other, and looks
 * afterwards whether every acknowledged act is there, once, and the database sound. Unacknowledged acts are sent again.
 * Moments are counted from acts, not from the start, so that a slow machine kills among as many of them as a quick one.
 */
export async function killRounds(kills: number, seed: number): Promise<KillReport> {
  const random = randomStream(seed);
  const folder = freshFolder();
  const file = join(folder, 'combwright.sqlite');
  const sent: Sent[] = [];
  const report: KillReport = { kills: 0, acknowledged: 0, lost: 0, notOnce: 0, damaged: 0, failedStarts: 0 };
  let n = 0;
  for (; report.kills < kills; report.kills++) {
    const server = await startServer(folder).catch(() => null);
    if (server === null) {
      report.failedStarts++;
      continue;
    }
    let killed = false;
    let killing: Promise<void> | null = null;
    const killSoon = async () => {
      await new Promise((resolve) => setTimeout(resolve, random.uniform() * MOST_LATER));
      killed = true;
      await server.kill();
    };
    let before = random.below(MOST_ACTS + 1);
    const began = Date.now();
    while (!killed) {
      if (killing === null && (before === 0 || Date.now() - began > PATIENCE)) killing = killSoon();
      const waiting = sent.find(({ acknowledged }) => !acknowledged);
      const act = waiting ?? {
        id: uuid7(Date.now(), crypto.getRandomValues(new Uint8Array(10))),
        code: `k${n++}`,
        acknowledged: false,
      };
      if (waiting === undefined) sent.push(act);
      try {
        const response = await fetch(`${server.url}/api/act/record-queen`, {
          method: 'POST',
          headers: { 'Content-Type': 'application/json' },
          body: JSON.stringify({
            id: act.id,
            input: { queen: { code: act.code } },
            done: '2027-06-12T10:00:00+02:00[Europe/Berlin]',
          }),
        });
        if (response.ok && typeof ((await response.json()) as { seq?: number }).seq === 'number') {
          act.acknowledged = true;
          before = Math.max(0, before - 1);
        }
      } catch {
        // The server is gone; what was on its way is sent again after the next start.
      }
    }
    await killing;
    try {
      examineSqlite(file);
    } catch {
      report.damaged++;
    }
  }
  const store = await openStore({ file });
  const { answer: queens } = await store.read(['queen'], (facts) => facts.find('queen'));
  const acts = new Set((await store.acts({})).map(({ id }) => id as string));
  await store.close();
  for (const { id, code, acknowledged } of sent) {
    const found = queens.filter((queen) => queen.code === code).length;
    if (acknowledged) report.acknowledged++;
    if (acknowledged && (found === 0 || !acts.has(id))) report.lost++;
    if (found > 1) report.notOnce++;
  }
  removeFolder(folder);
  return report;
}
