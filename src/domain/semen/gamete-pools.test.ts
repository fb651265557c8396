import { describe, expect, test } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { microlitres } from '#units/volume.ts';
import type { DroneCatch, DroneSource } from './drone-source.ts';
import { carriedPool, droneSideOfDaughter, sharedPool } from './gamete-pools.ts';
import { readLedger } from './ledger.ts';
import { catchOf, ledgerBook } from './ledger-fixtures.ts';
import type { MatingSeason } from './mating-facts.ts';
import { dose, flight, matings, mother, stated } from './mating-fixtures.ts';
import { pedigreePools } from './pedigree-pools.ts';

const catches = new Map<string, DroneCatch>([
  ['m', catchOf('m', 'M')],
  ['n', catchOf('n', 'N')],
  [
    'box',
    {
      id: 'box',
      mothers: [
        { of: mother('M'), share: 0.6 },
        { of: mother('N'), share: 0.4 },
      ],
      strangers: 0.1,
    },
  ],
]);

function bookOf(ledger = ledgerBook()) {
  return { story: readLedger({ tubes: [], lines: ledger.lines, catches }), catches };
}

const noLedger = bookOf();
const codes = (pool: ReturnType<typeof carriedPool>) => pool?.assumptions.map((assumption) => assumption.code);

const season: MatingSeason = {
  id: 'k27',
  place: 'Kesselgrund',
  year: 2027,
  sources: [
    { of: { kind: 'sister-group', group: 'S-44' }, queens: 12 },
    { of: { kind: 'mother', queen: 'R-07' }, queens: 1 },
  ],
};
const flownTo = { suspected: false, drones: 15, season };

describe('what a queen carries', () => {
  test('nothing written about her mating is nothing, not a guess', () => {
    expect(carriedPool(matings('Q', {}), noLedger)).toBeNull();
    expect(carriedPool(matings('Q', { inseminations: [dose('2027-06-12', { done: false })] }), noLedger)).toBeNull();
  });

  test('stated drone mothers: missing shares take what is left, drones by share, 10 when nobody counted', () => {
    const pool = carriedPool(
      matings('Q', {
        inseminations: [dose('2027-06-12', { stated: stated(null, [mother('M'), 0.6], [mother('N'), null]) })],
      }),
      noLedger,
    );
    expect(pool?.sources).toEqual([
      { kind: 'drones', of: mother('M'), share: 0.6, drones: 6 },
      { kind: 'drones', of: mother('N'), share: 0.4, drones: 4 },
    ]);
    expect(codes(pool)).toEqual(['drones-not-said']);
  });

  test('every queen of a homogenised tube points to the same whole batch', () => {
    const ledger = ledgerBook();
    ledger.collected('C', 'm', 8, 8);
    ledger.collected('C', 'n', 8, 8);
    ledger.write('C', { kind: 'homogenised' });
    const [a, b] = [ledger.dose('C', 8), ledger.dose('C', 8)];
    const book = bookOf(ledger);
    for (const line of [a, b]) {
      const pool = carriedPool(matings('Q', { inseminations: [dose('2027-06-12', { draws: [line] })] }), book);
      expect(pool?.sources).toEqual([{ kind: 'batch', batch: 'batch:3', share: 1, draws: null }]);
    }
    expect(sharedPool('batch:3', book)?.sources).toEqual([
      { kind: 'drones', of: mother('M'), share: 0.5, drones: expect.closeTo(8 / 1.36, 12) },
      { kind: 'drones', of: mother('N'), share: 0.5, drones: expect.closeTo(8 / 1.36, 12) },
    ]);
  });

  test('a layered tube gives each queen her own drones, about', () => {
    const ledger = ledgerBook();
    ledger.collected('C', 'm', 16, 16);
    const line = ledger.dose('C', 8);
    const pool = carriedPool(matings('Q', { inseminations: [dose('2027-06-12', { draws: [line] })] }), bookOf(ledger));
    expect(pool).toMatchObject({ about: true, sources: [{ kind: 'drones', of: mother('M'), share: 1 }] });
    expect(pool?.sources[0]).toHaveProperty('drones', expect.closeTo(8 / 1.36, 12));
  });

  test('a stirred tube gives draws from the whole, as many as the dose has of it', () => {
    const ledger = ledgerBook();
    ledger.collected('C', 'm', 10, 10);
    ledger.collected('C', 'n', 10, 10);
    ledger.write('C', { kind: 'stirred' });
    const line = ledger.dose('C', 8);
    const pool = carriedPool(matings('Q', { inseminations: [dose('2027-06-12', { draws: [line] })] }), bookOf(ledger));
    expect(pool?.sources).toEqual([{ kind: 'batch', batch: 'batch:3', share: 1, draws: expect.closeTo(8 / 1.36, 9) }]);
    expect(codes(pool)).toEqual(['mixing-assumed', 'drones-guessed-from-count']);
  });

  test('a suspected flight adds an open pool with the weight the breeder gives it', () => {
    const pool = carriedPool(
      matings('Q', {
        inseminations: [dose('2027-06-12', { stated: stated(10, [mother('M'), 1]) })],
        naturalMatings: [flight('2027-06-20', { share: 0.2 })],
      }),
      noLedger,
    );
    expect(pool?.sources).toEqual([
      { kind: 'drones', of: mother('M'), share: 0.8, drones: 10 },
      { kind: 'drones', of: { kind: 'open' }, share: 0.2, drones: 12 },
    ]);
    expect(codes(pool)).toEqual(['drones-not-said', 'natural-mating-suspected']);
  });

  test('a flight alone is the whole pool: a mating place with its sister group', () => {
    const pool = carriedPool(matings('Q', { naturalMatings: [flight('2027-06-20', flownTo)] }), noLedger);
    expect(pool).toMatchObject({ about: false, sources: [{ kind: 'place', season, share: 1, draws: 15 }] });
  });

  test('a place nobody wrote down who stood at is open; a number of drones not written is a free flight of 12', () => {
    const empty = flight('2027-06-20', { ...flownTo, season: { ...season, sources: [] }, drones: null });
    const pool = carriedPool(matings('Q', { naturalMatings: [empty] }), noLedger);
    expect(pool?.sources).toEqual([{ kind: 'drones', of: { kind: 'open' }, share: 1, drones: 12 }]);
    const unsaid = flight('2027-06-20', { ...flownTo, drones: null });
    expect(carriedPool(matings('Q', { naturalMatings: [unsaid] }), noLedger)?.sources).toEqual([
      { kind: 'place', season, share: 1, draws: 12 },
    ]);
  });

  test('queens of one place and season draw from one pool, every queen of a group as likely as a queen alone', () => {
    const flown = ['P', 'Q'].map((queen) => matings(queen, { naturalMatings: [flight('2027-06-20', flownTo)] }));
    const { pools, carried, assumptions } = pedigreePools(flown, [], {
      ...noLedger,
      queenName: (queen) => queen,
      batchName: (batch) => batch,
      membersOfLine: () => [],
    });
    expect([...carried]).toEqual([
      ['P', 'pool:P'],
      ['Q', 'pool:Q'],
    ]);
    const all = Number.POSITIVE_INFINITY;
    expect(pools).toContainEqual({
      id: 'place:k27',
      name: 'drones at Kesselgrund, 2027',
      sources: [
        { queen: 'S-44', share: 12, drones: all },
        { queen: 'R-07', share: 1, drones: all },
      ],
    });
    for (const id of ['pool:P', 'pool:Q'])
      expect(pools.find((pool) => pool.id === id)?.sources).toEqual([{ pool: 'place:k27', share: 1, draws: 15 }]);
    expect(assumptions).toEqual([{ code: 'met-at-random', pool: 'drones at Kesselgrund, 2027' }]);
  });
});

describe('odd records', () => {
  test('1: "R-07 or R-09, rather R-07" stays one or the other, with weights', () => {
    const either: DroneSource = {
      kind: 'either',
      options: [
        { of: { kind: 'mother', queen: 'R-07' }, weight: 0.7 },
        { of: { kind: 'mother', queen: 'R-09' }, weight: 0.3 },
      ],
    };
    const pool = carriedPool(
      matings('Q', { inseminations: [dose(null, { stated: stated(8, [either, 1]) })] }),
      noLedger,
    );
    expect(pool?.sources).toEqual([{ kind: 'drones', of: either, share: 1, drones: 8 }]);
  });

  test("2: a seller's word, a line as source, no day: always counted and always said", () => {
    const word = { queen: 'Q', day: null, ...stated(null, [{ kind: 'line', line: 'T' }, 1]) };
    const pool = carriedPool(matings('Q', { sellersWords: [word] }), noLedger, day('2020-01-01'));
    expect(pool?.sources).toEqual([{ kind: 'drones', of: { kind: 'line', line: 'T' }, share: 1, drones: 10 }]);
    expect(codes(pool)).toEqual(['sellers-word', 'drones-not-said']);
  });

  test('3: 4 µl of C-03, no eggs, 8 µl of C-09: mixed by µl of semen, guessed, until the first left nothing', () => {
    const ledger = ledgerBook();
    ledger.collected('C-03', 'm', 12, 12);
    ledger.collected('C-09', 'n', 12, 12);
    const [first, second] = [ledger.dose('C-03', 4), ledger.dose('C-09', 8)];
    const book = bookOf(ledger);
    const pool = (leftNothing: boolean) =>
      carriedPool(
        matings('26-014', {
          inseminations: [dose('2026-06-10', { draws: [first], leftNothing }), dose('2026-06-26', { draws: [second] })],
        }),
        book,
      );
    const shares = pool(false)?.sources.map((source) => Number(source.share.toFixed(12)));
    expect(shares).toEqual([0.333333333333, 0.666666666667]);
    expect(codes(pool(false))).toContain('doses-mixed-by-semen');
    expect(pool(true)?.sources).toMatchObject([{ of: mother('N'), share: 1 }]);
    expect(codes(pool(true))).not.toContain('doses-mixed-by-semen');
  });

  test('7: a flight box of M, of N and of strangers: two mothers and a stranger share', () => {
    const ledger = ledgerBook();
    ledger.collected('C', 'box', 10, 10);
    const line = ledger.dose('C', 10);
    const pool = carriedPool(matings('Q', { inseminations: [dose('2027-06-12', { draws: [line] })] }), bookOf(ledger));
    expect(
      pool?.sources.map((source) => source.kind === 'drones' && [source.of, Number(source.share.toFixed(9))]),
    ).toEqual([
      [mother('M'), 0.54],
      [mother('N'), 0.36],
      [{ kind: 'open' }, 0.1],
    ]);
  });

  test('14: the last 3 µl of C-07 and 5 µl of C-08 are one insemination with two draws', () => {
    const ledger = ledgerBook();
    ledger.collected('C-07', 'm', 3, 3);
    ledger.collected('C-08', 'n', 20, 20);
    const draws = [ledger.dose('C-07', 3), ledger.dose('C-08', 5)];
    const pool = carriedPool(matings('27-022', { inseminations: [dose('2027-06-12', { draws })] }), bookOf(ledger));
    expect(pool?.sources).toMatchObject([
      { of: mother('M'), share: 0.375 },
      { of: mother('N'), share: 0.625 },
    ]);
    expect(codes(pool)).not.toContain('doses-mixed-by-semen');
  });

  test('15: one drone of 1.2 µl, half to each of two queens, is one pool shared by both', () => {
    const ledger = ledgerBook();
    ledger.collected('C', 'm', 1.2, 1);
    const lines = [ledger.dose('C', 0.6), ledger.dose('C', 0.6)];
    const book = bookOf(ledger);
    const pools = lines.map((line) =>
      carriedPool(matings('Q', { inseminations: [dose('2027-06-12', { draws: [line] })] }), book),
    );
    expect(pools[0]?.sources).toEqual([{ kind: 'batch', batch: 'drone:1:1', share: 1, draws: null }]);
    expect(pools[1]?.sources).toEqual(pools[0]?.sources);
    expect(pools[0]?.about).toBe(false);
    expect(sharedPool('drone:1:1', book)?.sources).toEqual([{ kind: 'drones', of: mother('M'), share: 1, drones: 1 }]);
  });

  test('diluted semen counts the semen in it, not the µl given', () => {
    const ledger = ledgerBook();
    ledger.collected('A', 'm', 10, 10);
    ledger.write('A', { kind: 'homogenised' });
    ledger.write('A', { kind: 'diluent', microlitres: microlitres(10), end: 'filled' });
    ledger.collected('B', 'n', 10, 10);
    const draws = [ledger.dose('A', 8), ledger.dose('B', 4)];
    const pool = carriedPool(matings('Q', { inseminations: [dose('2027-06-12', { draws })] }), bookOf(ledger));
    expect(pool?.sources.map((source) => source.share)).toEqual([0.5, 0.5]);
  });
});

describe('drone side of a daughter', () => {
  const dam = matings('Q', {
    inseminations: [
      dose('2026-06-10', { stated: stated(10, [mother('M'), 1]), semen: 8 }),
      dose('2027-06-10', { stated: stated(10, [mother('N'), 1]), semen: 8 }),
    ],
  });

  test('is what her dam carried when the egg was laid: emerged − 16 days', () => {
    expect(droneSideOfDaughter(dam, noLedger, day('2027-06-25'))?.sources).toHaveLength(1);
    expect(droneSideOfDaughter(dam, noLedger, day('2027-06-26'))?.sources).toHaveLength(2);
    expect(droneSideOfDaughter(dam, noLedger, day('2026-06-01'))).toBeNull();
  });

  test('without a day of emergence it is all that is known', () => {
    expect(droneSideOfDaughter(dam, noLedger, null)?.sources).toHaveLength(2);
  });
});
