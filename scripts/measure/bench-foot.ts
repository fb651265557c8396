/**
 * A worn pedal and a resting foot at the bench board (interface.md §2.0), by the grammar and by a real board; and a day by one pedal only.
 * Nothing here is timed: the counts hold on a busy machine too.
 */
import {
  freshDisk,
  openChromium,
  press as pressPedal,
  removeDisk,
  shownDone,
  station,
} from '../../tests/support/bench-chromium.ts';
import { bouncing, dice, longPresses, meanings, resting } from '../../tests/support/foot.ts';
import { freshFolder, removeFolder, startServer } from '../../tests/support/running-server.ts';

let failed = false;
const says = (words: string, holds: boolean) => {
  console.log(`${holds ? 'holds' : 'DOES NOT HOLD'}  ${words}`);
  failed ||= !holds;
};
const count = (all: readonly string[], wanted: string) => all.filter((each) => each === wanted).length;

for (const seed of [1, 2, 3, 4, 5]) {
  const accepted = count(meanings(bouncing(dice(seed), 1000)), 'accept');
  const doubles = Math.max(0, accepted - 1000);
  const missed = Math.max(0, 1000 - accepted);
  says(
    `seed ${seed}: 1,000 presses with bounces of 30-400 ms: ${doubles} doubles, ${missed} missed (0; under 1)`,
    accepted === 1000,
  );
}
const rested = meanings(resting(dice(6), 1000));
says(
  `a foot that rests 2-30 s, 1,000 times: ${count(rested, 'step-back')} undone, ${count(rested, 'accept')} taken (0; 0)`,
  count(rested, 'step-back') + count(rested, 'accept') === 0,
);
const slow = count(meanings(longPresses(dice(7), 1000)), 'accept');
says(`1,000 presses of 600-1,200 ms: ${1000 - slow} lost (0)`, slow === 1000);

// The same on a real board.
const PRESSES = 40;
const folder = freshFolder();
const disk = freshDisk();
const server = await startServer(folder);
const { day, cross } = await station(server, 60);
const { page, kill } = await openChromium(disk);
await page.goto(`${server.url}/bench/${day}/board/${cross}`);
await page.locator('.board').waitFor();
const roll = dice(8);
const contact = async (milliseconds: number) => {
  await page.keyboard.down('Space');
  await page.waitForTimeout(milliseconds);
  await page.keyboard.up('Space');
};
for (let i = 0; i < PRESSES; i++) {
  await contact(roll(80, 900));
  for (let bounce = roll(1, 2); bounce > 0; bounce--) {
    await page.waitForTimeout(roll(30, 250));
    await contact(roll(5, 50));
  }
  await page.waitForTimeout(450);
}
says(
  `real board: ${PRESSES} presses with bounces made ${await shownDone(page)} queens (${PRESSES / 2})`,
  (await shownDone(page)) === PRESSES / 2,
);
for (const rest of [2_000, 4_000, 8_000]) {
  await contact(rest);
  await page.waitForTimeout(3_500);
}
says(
  `real board: a foot resting 2, 4 and 8 s: ${(await shownDone(page)) - PRESSES / 2} queens changed (0)`,
  (await shownDone(page)) === PRESSES / 2,
);
for (let i = 0; i < 10; i++) {
  await contact(roll(600, 1_150));
  await page.waitForTimeout(450);
}
says(
  `real board: 10 presses of 600-1,150 ms made ${(await shownDone(page)) - PRESSES / 2} queens (5)`,
  (await shownDone(page)) === PRESSES / 2 + 5,
);
const before = await shownDone(page);
await contact(1_700);
await page.waitForTimeout(450);
await pressPedal(page);
says(
  `real board: a hold and a press step one dose back: ${before - (await shownDone(page))} (1)`,
  (await shownDone(page)) === before - 1,
);
await kill();
await server.stop();
removeFolder(folder);
removeDisk(disk);
process.exit(failed ? 1 : 0);
