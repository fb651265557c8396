import { z } from 'zod';
import { action } from '../mechanism/action.ts';
import { lineAt, linesWritten } from '../semen/write-line.ts';
import { atTheBoard, collectedShape } from './shapes.ts';

const input = z.strictObject({ ...atTheBoard, collected: collectedShape });

/** Drones drawn into the tip at the bench, for the next queens until it is used up: one drone for one to three queens. */
export const fillTip = action({
  name: 'fill-tip',
  place: 'bench',
  what: 'Record drones drawn into the tip at the bench, for the next one to three queens.',
  input,
  async run({ bench_day, at, collected }, circumstances) {
    const person = (await circumstances.book.get('bench_day', bench_day))?.operator ?? undefined;
    const line = {
      ...lineAt(collected.tube, 'collected', { at: at ?? circumstances.done, person }),
      catch: collected.catch,
      volume_ul: collected.microlitres ?? null,
      drones: collected.drones ?? null,
    };
    const changes = await linesWritten([line], circumstances);
    return { changes, result: { id: changes[0]?.id ?? null } };
  },
});
