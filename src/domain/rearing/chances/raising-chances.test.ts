import { describe, expect, it } from 'vitest';
import { addDays, day } from '#units/calendar-day.ts';
import { standardText } from '../standard-text.ts';
import { crossOutlook, type RaisingFacts, raisingChances } from './raising-chances.ts';

const on = day('2027-06-12');
const facts = (more: Partial<RaisingFacts> = {}): RaisingFacts => ({
  on,
  queens: 12,
  queenAge: 8,
  droneAge: { from: 14, to: 21 },
  microlitresAQueen: 8,
  profile: standardText,
  sure: 0.9,
  grafts: [],
  grafted: 0,
  others: 0,
  mothers: [{ id: 'r', name: 'R-07', share: 1, lots: [], hung: 0 }],
  ...more,
});

describe('what to raise for a cross', () => {
  it('is 26 larvae and 2 combs for 12 queens by the standard text, nine times in ten', () => {
    const found = raisingChances(facts());
    expect(found.queens).toMatchObject({ larvae: 26, from: 'least' });
    expect(found.mothers[0]?.toRaise.combs).toBe(2);
    expect(found.queens.chance).toBeGreaterThanOrEqual(0.9);
    expect(found.mothers[0]?.chance).toBeGreaterThanOrEqual(0.9);
    expect(found.chance).toBeCloseTo(found.queens.chance * (found.mothers[0]?.chance ?? 0), 12);
  });

  it('shows the same in dots: at least 18 of 20 seasons are enough', () => {
    const { queens, mothers } = raisingChances(facts());
    expect(queens.dots).toHaveLength(20);
    expect(queens.dots.filter((ready) => ready >= 12).length).toBeGreaterThanOrEqual(18);
    expect(mothers[0]?.dots.filter((microlitres) => microlitres >= 96).length).toBeGreaterThanOrEqual(18);
    expect(queens.dots).toEqual([...queens.dots].sort((a, b) => a - b));
  });

  it('is more where it is to be surer', () => {
    const [usual, surer] = [0.9, 0.95].map((sure) => raisingChances(facts({ sure })));
    expect(surer?.queens.larvae).toBeGreaterThan(usual?.queens.larvae ?? 0);
    expect(surer?.mothers[0]?.toRaise.laidCells).toBeGreaterThan(usual?.mothers[0]?.toRaise.laidCells ?? 0);
  });

  it('goes on from what was counted: 14 accepted of 26 are too few, with a comb of 2,000 laid cells', () => {
    const graft = { id: 'g', grafted: addDays(on, -20), count: { left: 14, after: 'accepted' as const } };
    const lot = { counted: 'laid' as const, count: 2000, laidFrom: addDays(on, -45), laidTo: addDays(on, -38) };
    const found = raisingChances(
      facts({ grafts: [graft], grafted: 1, mothers: [{ id: 'r', name: 'R-07', share: 1, lots: [lot], hung: 1 }] }),
    );
    expect(found.queens.from).toBe('there');
    expect(found.queens.chance).toBeLessThan(0.5);
    expect(found.mothers[0]?.from).toBe('there');
    expect(found.mothers[0]?.chance).toBeGreaterThan(0.85);
  });

  it('parts the semen between two mothers', () => {
    const mothers = ['r', 's'].map((id) => ({ id, name: id, share: 0.5, lots: [], hung: 0 }));
    expect(raisingChances(facts({ mothers })).mothers.map(({ microlitres }) => microlitres)).toEqual([48, 48]);
  });

  it('the outlook is the same in short, and names what gives first', () => {
    const graft = { id: 'g', grafted: addDays(on, -20), count: { left: 14, after: 'accepted' as const } };
    const its = facts({ grafts: [graft], grafted: 1 });
    const [long, short] = [raisingChances(its), crossOutlook(its)];
    expect(short).toMatchObject({
      queens: { wanted: 12, chance: long.queens.chance, dots: long.queens.dots },
      mothers: [{ name: 'R-07', wanted: 96, chance: long.mothers[0]?.chance }],
      chance: long.chance,
      weakest: 'queens',
    });
    // Four days later the queens are older: 12 is within the usable 5 to 14 days, and the drones of the least comb are laid for that day.
    expect(crossOutlook(facts()).weakest).toBeNull();
  });

  it('says which loss bites, the worst first: acceptance for queens, young death for drones', () => {
    const { queens, droneBites } = raisingChances(facts());
    expect(queens.bites[0]?.figure).toBe('survivals.accepted');
    expect(queens.bites.map(({ saves }) => saves)).toEqual(
      queens.bites.map(({ saves }) => saves).sort((a, b) => b - a),
    );
    expect(droneBites[0]?.figure).toBe('survivals.dronesAtFourteen');
    expect(droneBites.at(-1)?.figure).toBe('yields.leftBehind');
  });

  it('has no number of larvae where queens are of no usable age', () => {
    expect(raisingChances(facts({ queenAge: 1 })).queens).toMatchObject({ larvae: null, stairs: [], chance: 0 });
  });
});
