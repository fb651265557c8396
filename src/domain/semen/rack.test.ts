import { describe, expect, test } from 'vitest';
import { microlitres } from '#units/volume.ts';
import { condemnedBy } from './condemned.ts';
import { readLedger } from './ledger.ts';
import { catchOf, ledgerBook, minute } from './ledger-fixtures.ts';
import { mother } from './mating-fixtures.ts';
import { layersForMixedCross } from './mixed-cross.ts';
import { dosesLeft, nextDoses } from './next-dose.ts';
import { dosesWanted, type OpenCross, promisedAndFree } from './promised-doses.ts';
import { microlitresPerDrone, tally } from './tally.ts';
import { useFirst } from './use-first.ts';

const catches = new Map([catchOf('m', 'M'), catchOf('n', 'N')].map((one) => [one.id, one]));
const read = (book: ReturnType<typeof ledgerBook>) => readLedger({ tubes: [], lines: book.lines, catches });

const cross = (told: Partial<OpenCross>): OpenCross => ({
  id: 'B',
  droneSide: [{ of: mother('M'), share: null }],
  queensWanted: 12,
  dosesPerQueen: 1,
  dose: 8,
  dosesGiven: 0,
  ...told,
});

describe('use first', () => {
  const book = ledgerBook();
  book.collected('new', 'm', 10, 10, { at: minute(0, '2027-06-20') });
  book.collected('old', 'm', 30, 30, { at: minute(0, '2027-06-01') });
  book.collected('frozen', 'm', 5, 5, { at: minute(0, '2026-06-01') });
  book.write('frozen', { kind: 'frozen' }, { at: minute(1, '2026-06-01') });
  book.collected('thin', 'm', 4, 4, { at: minute(0, '2027-06-10') });
  book.write('thin', { kind: 'diluent', microlitres: microlitres(4), end: 'filled' }, { at: minute(1, '2027-06-10') });
  book.collected('empty', 'm', 4, 4, { at: minute(0, '2025-06-10') });
  book.dose('empty', 4, 'filled', { at: minute(5, '2025-06-10') });
  const tubes = [...read(book).tubes.values()];
  const order = (rule?: 'oldest' | 'diluted-first' | 'least-left') => useFirst(tubes, rule).map((tube) => tube.tube);

  test('the oldest semen first, frozen after what ages, empty last', () => {
    expect(order()).toEqual(['old', 'thin', 'new', 'frozen', 'empty']);
  });
  test('or diluted first, or the least left', () => {
    expect(order('diluted-first')).toEqual(['thin', 'old', 'new', 'frozen', 'empty']);
    expect(order('least-left')).toEqual(['thin', 'new', 'old', 'frozen', 'empty']);
  });
});

describe('doses left, promised and free', () => {
  test('34 µl are 4 doses of 8 µl; rounding of readings does not eat a dose; overdrawn is none', () => {
    expect(dosesLeft(34, 8)).toBe(4);
    expect(dosesLeft(0.1 + 0.2, 0.1)).toBe(3);
    expect(dosesLeft(-3, 8)).toBe(0);
  });

  test('what the next doses hold is named before they are drawn, the last one short', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    book.collected('C', 'n', 10, 10);
    const next = nextDoses({ story: read(book), catches }, { tube: 'C', end: 'filled', dose: 8, atMost: 5 });
    expect(next.map((one) => [one.microlitres, one.missing, one.mothers[0]?.of])).toEqual([
      [8, 0, mother('N')],
      [8, 0, mother('M')],
      [4, 4, mother('M')],
    ]);
    expect(nextDoses({ story: read(book), catches }, { tube: 'X', end: 'filled', dose: 8, atMost: 5 })).toEqual([]);
  });

  test('free = semen of a mother − what open crosses still want of it; short is below zero', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 60, 60);
    book.collected('D', 'n', 20, 20);
    const both = [mother('M'), mother('N')].map((of) => ({ of, share: null }));
    const crosses = [cross({ dosesGiven: 7 }), cross({ id: 'C', droneSide: both, queensWanted: 3, dosesPerQueen: 2 })];
    const balance = promisedAndFree([...read(book).tubes.values()], crosses);
    expect(balance).toEqual([
      { of: mother('M'), semen: 60, promised: 5 * 8 + 24, free: -4, crosses: ['B', 'C'] },
      { of: mother('N'), semen: 20, promised: 24, free: -4, crosses: ['C'] },
    ]);
    expect(dosesWanted(cross({ dosesGiven: 14 }))).toBe(0);
  });

  test('a mother a cross wants and nobody has semen of is listed', () => {
    expect(promisedAndFree([], [cross({ queensWanted: 1 })])).toMatchObject([{ semen: 0, promised: 8, free: -8 }]);
  });
});

describe('drone tally', () => {
  test('tried = taken − left over; nobody presses for the empty ones', () => {
    expect(tally({ taken: 40, leftOver: 8, gave: 20, reasons: { mucus: 3 } })).toEqual({
      gave: 20,
      tried: 32,
      nothing: 12,
      unexplained: 9,
      yielding: 0.625,
      problems: [],
    });
    expect(microlitresPerDrone(21.8, 20)).toBeCloseTo(1.09, 12);
  });

  test('counts that cannot be are doubted and kept', () => {
    const codes = (counts: Parameters<typeof tally>[0]) => tally(counts).problems.map((problem) => problem.code);
    expect(codes({ taken: 5, leftOver: 8, gave: 0, reasons: {} })).toEqual(['more-left-than-taken']);
    expect(codes({ taken: 10, leftOver: 2, gave: 9, reasons: {} })).toEqual(['more-gave-than-tried']);
    expect(codes({ taken: 10, leftOver: 2, gave: 7, reasons: { faeces: 2 } })).toEqual(['more-reasons-than-failures']);
    expect(tally({ taken: 10, leftOver: null, gave: 4, reasons: {} })).toMatchObject({ tried: null, yielding: null });
  });

  test('faeces condemn the tube and what was drawn over from it since, and name every queen served since', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 40, 40);
    const clean = book.dose('C', 8);
    const soiled = book.dose('C', 8, 'filled', { at: minute(11) });
    book.write(
      'D',
      { kind: 'drawn-over', from: 'C', fromEnd: 'filled', microlitres: microlitres(8), end: 'filled' },
      { at: minute(12) },
    );
    const drawn = book.dose('D', 8, 'filled', { at: minute(13) });
    const doses = [
      { line: clean, queen: 'first' },
      { line: soiled, queen: 'second' },
      { line: drawn, queen: 'third' },
    ];
    expect(condemnedBy([{ tube: 'C', at: minute(10) }], book.lines, doses)).toEqual({
      tubes: ['C', 'D'],
      queens: ['second', 'third'],
    });
    expect(condemnedBy([], book.lines, doses)).toEqual({ tubes: [], queens: [] });
  });
});

describe('a tube filled in layers for a cross of two mothers', () => {
  const filled = (mixed: boolean) => {
    const book = ledgerBook();
    book.collected('C', 'm', 20, 20);
    book.collected('C', 'n', 20, 20);
    if (mixed) book.write('C', { kind: 'homogenised' });
    return [...read(book).tubes.values()];
  };

  test('is warned: the first queens would get one mother, the last the other', () => {
    const [tube] = filled(false);
    const [mixed] = filled(true);
    if (tube === undefined || mixed === undefined) throw new Error('no tube');
    expect(layersForMixedCross(tube, [mother('M'), mother('N')])).toMatchObject([{ code: 'layers-split-the-mothers' }]);
    expect(layersForMixedCross(tube, [mother('N')])).toEqual([]);
    expect(layersForMixedCross(mixed, [mother('M'), mother('N')])).toEqual([]);
  });
});
