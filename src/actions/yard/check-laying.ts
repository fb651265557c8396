import { z } from 'zod';
import { action } from '../mechanism/action.ts';
import { lookShape, settleLook, visitShape } from './look.ts';
import { writeLooks } from './write-looks.ts';

/**
 * Writes down one look into one nuc: what was seen, and what follows from it. Another queen or none ends her stay in a span;
 * the first eggs of a cross count its later checks anew.
 */
export const checkLaying = action({
  name: 'check-laying',
  place: 'yard',
  what: 'Write down what was seen in a nuc: eggs, caps, another queen, or none.',
  input: lookShape.extend(visitShape),
  async run({ day, person, ...given }, circumstances) {
    const visit = { day: day ?? circumstances.day, person: person ?? null };
    const look = await settleLook(given, visit, circumstances.book);
    const { changes, checks, problems } = await writeLooks([look], () => '', circumstances);
    return { changes, result: { id: checks[0] }, problems };
  },
});

const roundInput = z.strictObject({
  ...visitShape,
  /** Every colony on the sheet, in its order. */
  colonies: z.array(lookShape.shape.colony.unwrap()).min(1).max(2_000),
  /** What was seen in all that are not named below. */
  usual: lookShape.shape.sights.unwrap().min(1),
  /** The nucs where it was otherwise. */
  otherwise: z.array(lookShape).max(2_000).optional(),
});

/** Writes down a whole round from its paper sheet as one act: what was usual, and the nucs where it was otherwise. */
export const enterRound = action({
  name: 'enter-round',
  place: 'yard',
  what: 'Enter a laying round from its paper sheet: what was usual, and where it was otherwise.',
  input: roundInput,
  async run({ day, person, colonies, usual, otherwise = [] }, circumstances) {
    const visit = { day: day ?? circumstances.day, person: person ?? null };
    const named = new Set(otherwise.map(({ colony }) => colony));
    const usualOnes = colonies.filter((colony) => !named.has(colony)).map((colony) => ({ colony, sights: usual }));
    const looks = [];
    for (const given of [...otherwise, ...usualOnes]) looks.push(await settleLook(given, visit, circumstances.book));
    const path = (n: number) => (n < otherwise.length ? `otherwise.${n}.` : 'usual.');
    const { changes, checks, problems } = await writeLooks(looks, path, circumstances);
    return { changes, result: { checks }, problems };
  },
});
