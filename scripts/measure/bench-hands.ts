/** All bench tasks by keyboard only and a day by one pedal only, walked in real Chromium (tests/journeys/bench-hands.journey.ts). */
import { spawnSync } from 'node:child_process';

const walked = spawnSync('npx', ['playwright', 'test', 'tests/journeys/bench-hands.journey.ts', '--reporter=list'], {
  stdio: ['ignore', 'inherit', 'inherit'],
  env: process.env,
});
console.log(
  `${walked.status === 0 ? 'holds' : 'DOES NOT HOLD'}  keyboard only; one pedal only; counts of presses and stops`,
);
process.exit(walked.status === 0 ? 0 : 1);
