import { describe, expect, it } from 'vitest';
import { queenShares, queensThrough } from '#domain/rearing/chances/queen-losses.ts';
import { crossOutlook } from '#domain/rearing/chances/raising-chances.ts';
import { chanceOfSemen, semenSupply } from '#domain/rearing/chances/semen-supply.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import { countAtLeast, meanCount } from '#numeric/chance/count-chances.ts';
import { addDays, day } from '#units/calendar-day.ts';
import golden from './chances.json';

/** The reference's own standard error is 0.0005 at most; three of them, and 0.0005 for the engine's grid. */
const TOLERANCE = 0.002;
const span = ([from = 0, to = 0]: number[]) => ({ from, to });

describe('chances against one million drawn seasons (numpy 2.4.6, make_chances.py)', () => {
  it.each(golden.queens)(
    '$larvae larvae grafted $daysBefore days before',
    ({ larvae, daysBefore, ages, mean, atLeast }) => {
      const shares = queenShares(standardText, { daysBefore, ages: span(ages) });
      const ready = queensThrough({ left: larvae, after: 'grafted' }, shares);
      expect(Math.abs(meanCount(ready) - mean)).toBeLessThan(0.02);
      for (const [k = 0, chance = 0] of atLeast)
        expect(Math.abs(countAtLeast(k, ready) - chance)).toBeLessThan(TOLERANCE);
    },
  );

  it.each(golden.queens)(
    '$larvae larvae for two crosses: what is left for one is what both want of all',
    ({ larvae, daysBefore, ages, atLeast }) => {
      const on = day('2027-06-12');
      const graft = { id: 'g', grafted: addDays(on, -daysBefore), count: { left: larvae, after: 'grafted' as const } };
      const profile = { ...standardText, queens: { ...standardText.queens, hard: span(ages) } };
      for (const [k = 0, chance = 0] of atLeast.filter(([n = 0]) => n > 3)) {
        const wanted = { queens: k - 3, others: 3, queenAge: daysBefore - 12 };
        const found = crossOutlook({
          ...{ on, ...wanted, profile, grafts: [graft], grafted: 0, mothers: [], sure: 0.9 },
          ...{ droneAge: { from: 14, to: 21 }, microlitresAQueen: 8 },
        });
        expect(Math.abs(found.queens.chance - chance)).toBeLessThan(TOLERANCE);
      }
    },
  );

  it.each(golden.semen)('$cells cells laid $laidFrom to $laidTo days before', (row) => {
    const on = day('2027-06-12');
    const lot = {
      counted: 'cells' as const,
      count: row.cells,
      laidFrom: addDays(on, -row.laidFrom),
      laidTo: addDays(on, -row.laidTo),
    };
    const supply = semenSupply({ lots: [lot], on, ages: span(row.ages), profile: standardText });
    expect(Math.abs(meanCount(supply.yielding) / row.meanDonors - 1)).toBeLessThan(0.003);
    for (const [k = 0, chance = 0] of row.donorsAtLeast)
      expect(Math.abs(countAtLeast(k, supply.yielding) - chance)).toBeLessThan(TOLERANCE);
    for (const [volume = 0, chance = 0] of row.volumeAtLeast)
      expect(Math.abs(chanceOfSemen(volume, supply) - chance)).toBeLessThan(TOLERANCE);
  });
});
