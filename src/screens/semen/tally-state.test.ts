import { describe, expect, test } from 'vitest';
import {
  collectedIn,
  gaveIn,
  newTally,
  newTallyTube,
  pressed,
  readIn,
  soiledIn,
  type TallyState,
  takenBack,
  tallyInput,
  withBore,
  withHeld,
} from './tally-state.ts';

const two = (): TallyState => ({
  ...newTally(),
  tubes: [
    { ...newTallyTube(), code: 'C-1' },
    { ...newTallyTube(), code: 'C-2' },
  ],
});

describe('counting', () => {
  test('a step back takes back what was pressed last, whatever it was and wherever it went', () => {
    let state = pressed(pressed(two(), 'gave'), 'gave');
    state = pressed({ ...state, open: 1 }, 'faeces');
    expect([gaveIn(state), soiledIn(state), state.tubes[1]?.soiled]).toEqual([2, 1, 1]);
    state = takenBack({ ...state, open: 0 });
    expect([gaveIn(state), soiledIn(state)]).toEqual([2, 0]);
    state = takenBack(takenBack(takenBack(state)));
    expect(gaveIn(state)).toBe(0);
  });

  test('faeces condemn every tube they got into, not only the last', () => {
    const first = pressed(two(), 'faeces');
    const both = pressed({ ...first, open: 1 }, 'faeces');
    expect(tallyInput(both, null).reasons).toEqual([
      { reason: 'faeces', count: 1, into: 0 },
      { reason: 'faeces', count: 1, into: 1 },
    ]);
  });

  test('reasons of the catch name no tube', () => {
    const state = pressed(pressed(two(), 'mucus'), 'gave');
    expect(tallyInput(state, null)).toMatchObject({ gave: 1, reasons: [{ reason: 'mucus', count: 1 }] });
  });
});

describe('readings', () => {
  // Geometry of a 0.8 mm bore: 0.50265 µl a millimetre (π d²/4), so 8 µl are 15.92 mm.
  test('changing the unit keeps the volume', () => {
    const tube = { ...newTallyTube(), bore: 0.8, start: 0, end: 8 };
    const inMillimetres = readIn(tube, 'mm');
    expect(inMillimetres.end).toBeCloseTo(15.92, 2);
    expect(collectedIn(inMillimetres)).toBeCloseTo(8, 2);
    expect(readIn(inMillimetres, 'µl').end).toBeCloseTo(8, 1);
  });

  test('without a bore there are no millimetres', () => {
    expect(readIn(newTallyTube(), 'mm').unit).toBe('µl');
    const emptied = withBore(readIn({ ...newTallyTube(), bore: 0.8, end: 8 }, 'mm'), null);
    expect([emptied.unit, emptied.bore]).toEqual(['µl', null]);
    expect(emptied.end).toBeCloseTo(8, 1);
  });

  test('a tube of the rack begins at what the book says of it, in µl', () => {
    const tube = withHeld({ ...newTallyTube(), unit: 'mm', bore: 0.5 }, { id: 't', bore: 0.8, left: 12 });
    expect(tube).toMatchObject({ tube: 't', bore: 0.8, unit: 'µl', start: 12 });
  });

  test('a tube nobody read is said to be so, not to hold nothing', () => {
    const [into] = tallyInput(pressed(two(), 'gave'), null).into;
    expect(into).toMatchObject({ drones: 1, start: 0 });
    expect(into).not.toHaveProperty('end');
  });

  test('the end it is filled by is told where it is the other one', () => {
    const state = two();
    const tubes = state.tubes.map((tube) => ({ ...tube, by: 'other' as const }));
    expect(tallyInput({ ...state, tubes }, null).into[0]).toMatchObject({ by_end: 'other' });
    expect(tallyInput(state, null).into[0]).not.toHaveProperty('by_end');
  });
});
