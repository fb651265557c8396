import { defineConfig } from '@playwright/test';

/** Real Chromium from the machine; each journey starts its own server on its own fresh folder (tests/journeys/support). */
export default defineConfig({
  testDir: 'tests/journeys',
  testMatch: '*.journey.ts',
  workers: 2,
  timeout: 180_000,
  // A busy machine paints late: the unit tests run beside the journeys on two cores.
  expect: { timeout: 15_000 },
  outputDir: '.out/journeys',
  reporter: [['list'], ['json', { outputFile: '.out/journeys.json' }]],
  use: {
    timezoneId: 'Europe/Berlin',
    launchOptions: {
      executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
});
