/** 200 random kills of the server while a client records acts. */
import { killRounds } from '../../tests/support/kill-rounds.ts';

const { kills, acknowledged, lost, notOnce, damaged, failedStarts } = await killRounds(200, Date.now() % 100_000);
console.log(
  `kills: ${kills}; acknowledged acts ${acknowledged}, lost ${lost}, done twice ${notOnce}; integrity failures ${damaged}; failed starts ${failedStarts}`,
);
process.exit(lost + notOnce + damaged + failedStarts === 0 ? 0 : 1);
