import { type DroneWish, dronesNeeded, droneWishRefusals } from '#domain/rearing/drones-needed.ts';
import { sayProblem } from '#words/say.ts';
import type { Command, Reply } from '../command.ts';
import type { Given } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';

const FLAG_OF: Readonly<Record<keyof DroneWish, string>> = {
  queens: 'queens',
  dose: 'dose',
  reserve: 'reserve',
  perDrone: 'per-drone',
  yielding: 'yielding',
  sure: 'sure',
};

function wishOf(given: Given): DroneWish {
  return {
    queens: given.number('queens'),
    dose: given.number('dose'),
    reserve: given.number('reserve'),
    perDrone: given.number('per-drone'),
    yielding: given.number('yielding'),
    sure: given.number('sure'),
  };
}

async function run(given: Given): Promise<Reply> {
  const wish = wishOf(given);
  const refused = droneWishRefusals(wish);
  if (refused.length > 0)
    throw new WrongInput(
      refused.map((problem) => {
        const flag = FLAG_OF[problem.path as keyof DroneWish];
        return { column: `--${flag}`, found: String(given.number(flag)), remedy: sayProblem(problem) };
      }),
    );
  const json = dronesNeeded(wish);
  return { json, tables: [{ title: 'drones needed', columns: ['what', 'value'], rows: Object.entries(json) }] };
}

/** How many mature drones to have, so that enough give semen (contracts.md, command 8). */
export const dronesNeededCommand: Command = {
  name: 'drones-needed',
  summary: 'how many mature drones to have on the day',
  positionals: [],
  flags: {
    queens: { takes: 'whole', what: 'queens to be inseminated', needed: true },
    dose: { takes: 'number', what: 'µl of semen a queen', initial: '8' },
    reserve: { takes: 'percent', what: 'semen on top for what stays behind', initial: '10%' },
    'per-drone': { takes: 'number', what: 'µl from one drone that gives semen', initial: '1' },
    yielding: { takes: 'percent', what: 'mature drones that give semen', initial: '50%' },
    sure: { takes: 'percent', what: 'how sure it must be enough', initial: '90%' },
  },
  run,
};
