import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { freeDiscs, nextDisc } from './disc-number.ts';
import { bearersOf, type MarkBearer } from './mark-identity.ts';
import { yearMark, yearsOf } from './year-colour.ts';

describe('the colour of a year', () => {
  it('comes back every five years, each with its own shape', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 9000 }), (year) => {
        expect(yearMark(year + 5)).toEqual(yearMark(year));
        const five = [0, 1, 2, 3, 4].map((n) => yearMark(year + n));
        expect(new Set(five.map(({ colour }) => colour)).size).toBe(5);
        expect(new Set(five.map(({ shape }) => shape)).size).toBe(5);
      }),
    );
  });

  it('is wanted of whole years only', () => {
    expect(() => yearMark(2026.5)).toThrow(RangeError);
    expect(() => yearMark(-1)).toThrow(RangeError);
  });

  it('does not name the year', () => {
    expect(yearsOf('blue', { from: 2018, to: 2031 })).toEqual([2030, 2025, 2020]);
  });
});

describe('disc numbers', () => {
  const queens = [
    { year: 2027, disc: 1, living: true },
    { year: 2027, disc: 2, living: false },
    { year: 2022, disc: 3, living: true },
    { year: 2027, disc: null, living: true },
  ];

  it('are free where no living queen of the year bears them', () => {
    expect(freeDiscs(2027, queens, { from: 1, to: 4 })).toEqual([2, 3, 4]);
    expect(freeDiscs(2027, queens)).toHaveLength(98);
  });

  it('go on upwards and only then start over', () => {
    expect(nextDisc(2027, queens)).toBe(3);
    expect(nextDisc(2027, [...queens, { year: 2027, disc: 99, living: true }])).toBe(2);
    expect(nextDisc(2027, [])).toBe(1);
    expect(nextDisc(2027, [{ year: 2027, disc: 1, living: true }], { from: 1, to: 1 })).toBeNull();
  });
});

describe('a seen mark', () => {
  const bearer = (queen: string, more: Partial<MarkBearer>): MarkBearer => ({
    queen,
    year: 2025,
    colour: null,
    disc: 14,
    living: true,
    ...more,
  });
  const stock = [
    bearer('20-009', { year: 2020, living: false }),
    bearer('25-031', {}),
    bearer('26-001', { year: 2026 }),
    bearer('25-032', { disc: 15 }),
    bearer('24-007', { year: 2024, colour: 'blue' }),
  ];
  const seen = (mark: Parameters<typeof bearersOf>[0]) => bearersOf(mark, stock).map(({ queen }) => queen);

  it('"blue 14" may be a queen of 2020, of 2025, and one of 2024 who was given the wrong colour', () => {
    expect(seen({ colour: 'blue', disc: 14 })).toEqual(['25-031', '24-007', '20-009']);
  });

  it('a number alone, a colour alone, nothing at all', () => {
    expect(seen({ disc: 15 })).toEqual(['25-032']);
    expect(seen({ colour: 'white' })).toEqual(['26-001']);
    expect(seen({})).toEqual([]);
  });
});
