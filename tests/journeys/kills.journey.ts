import { expect, test } from '@playwright/test';
import { killRounds } from '../support/kill-rounds.ts';

test('20 kills of the server while acts are recorded: none acknowledged is lost, none is done twice', async () => {
  const report = await killRounds(20, 20270612);
  expect(report).toMatchObject({ kills: 20, lost: 0, notOnce: 0, damaged: 0, failedStarts: 0 });
  expect(report.acknowledged).toBeGreaterThan(20);
});
