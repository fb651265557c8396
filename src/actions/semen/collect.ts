import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { action } from '../mechanism/action.ts';
import { endShape, microlitreShape, readHowShape, whenAndWho } from './shapes.ts';
import { lineAt, linesWritten } from './write-line.ts';

const input = z.strictObject({
  tube: idShape,
  catch: idShape,
  /** The mother of these drones, where drones of the catch were told apart. */
  source: idShape.optional(),
  microlitres: microlitreShape.optional(),
  drones: z.number().min(0).optional(),
  end: endShape.optional(),
  read_how: readHowShape.optional(),
  ...whenAndWho,
});

/** Writes down semen drawn from drones of a catch into a tube. */
export const collect = action({
  name: 'collect',
  place: 'semen',
  what: 'Write down semen drawn from the drones of a catch into a tube.',
  input,
  async run(given, circumstances) {
    const at = given.at ?? circumstances.done;
    const line = {
      ...lineAt(given.tube, 'collected', { at, person: given.person }),
      catch: given.catch,
      source: given.source ?? null,
      volume_ul: given.microlitres ?? null,
      drones: given.drones ?? null,
      end: given.end ?? null,
      read_how: given.read_how ?? null,
    };
    const changes = await linesWritten([line], circumstances);
    return { changes, result: { id: changes[0]?.id ?? null } };
  },
});
