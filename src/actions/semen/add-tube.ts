import { action } from '../mechanism/action.ts';
import { newTubeShape } from './shapes.ts';
import { tubeMade } from './write-line.ts';

/** Writes down a capillary, a vial or a tip before anything is in it. */
export const addTube = action({
  name: 'add-tube',
  place: 'semen',
  what: 'Write down a capillary, a vial or a tip: its code, bore, slot and where it is kept.',
  input: newTubeShape,
  async run(tube, circumstances) {
    const { id, change, problems } = await tubeMade(tube, 'code', circumstances);
    return { changes: [change], result: { id }, problems };
  },
});
