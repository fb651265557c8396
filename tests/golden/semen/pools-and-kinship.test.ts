/**
 * From ledger lines to kinship: the classical coefficients of sisters under every way of giving semen.
 * Sources: haplodiploid relationship of full sisters ¾ by one drone, ¼ + ½/n by n unrelated drones, ½ + ¼/n by n drones of one
 * mother (Hamilton 1964, J. Theor. Biol. 7:1-52; Laidlaw & Page 1984, Genetics 108:985-997; textbook forms;
 * references from memory).
 */
import { expect, test } from 'vitest';
import { relationship } from '#domain/pedigree/kinship.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { readLedger } from '#domain/semen/ledger.ts';
import { catchOf, ledgerBook } from '#domain/semen/ledger-fixtures.ts';
import type { MatingFacts } from '#domain/semen/mating-facts.ts';
import { dose, matings, mother, stated } from '#domain/semen/mating-fixtures.ts';
import { pedigreePools } from '#domain/semen/pedigree-pools.ts';
import { day } from '#units/calendar-day.ts';
import { microlitres } from '#units/volume.ts';

type Book = ReturnType<typeof ledgerBook>;
const given = (queen: string, ...draws: string[]): MatingFacts =>
  matings(queen, { inseminations: [dose('2027-06-12', { queen, draws })] });

/** Relationship of queens `a` and `b`, daughters of the inseminated queens named. */
function kin(book: Book, facts: MatingFacts[], a: string, b: string): number {
  const queens = ['M', 'N', 'Q1', 'Q2'];
  const catches = new Map(queens.map((queen) => [queen, catchOf(queen, queen)]));
  const story = readLedger({ tubes: [], lines: book.lines, catches });
  const daughters = ['Q1', 'Q1', 'Q2'].map((dam, i) => ({ id: `D${i + 1}`, dam, emerged: day('2027-07-10') }));
  const names = { queenName: (id: string) => id, batchName: (id: string) => id, membersOfLine: () => ['M', 'N'] };
  const made = pedigreePools(facts, daughters, { story, catches, ...names });
  const founders = queens.map((id) => ({ id, pool: made.carried.get(id) ?? null }));
  const young = daughters.map(({ id, dam }) => ({ id, dam, fromPool: made.from.get(id) ?? null }));
  const laid = layPedigreeOf({ queens: [...founders, ...young], pools: made.pools, assumptions: made.assumptions });
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
  return relationship(laid.pedigree, a, b);
}

function measured(book: Book, tube: string, from: string, volumes: number[]) {
  const sum = volumes.reduce((total, volume) => total + volume, 0);
  const reading = { drones: volumes.length, volumes, microlitres: microlitres(sum) };
  book.write(tube, { kind: 'collected', catch: from, of: null, end: 'filled', ...reading });
}

test('one drone: her daughters are super-sisters, ¾; shared by two queens, their daughters share it', () => {
  const book = ledgerBook();
  measured(book, 'C', 'M', [1.2]);
  const facts = [given('Q1', book.dose('C', 0.6)), given('Q2', book.dose('C', 0.6))];
  expect(kin(book, facts, 'D1', 'D2')).toBeCloseTo(0.75, 12);
  expect(kin(book, facts, 'D1', 'D3')).toBeCloseTo(0.5, 12);
});

test('n equal drones of one mother from a layered tube: ½ + ¼/n within, ¼ between queens with drones of their own', () => {
  const book = ledgerBook();
  measured(book, 'C', 'M', Array(16).fill(1));
  const facts = [given('Q1', book.dose('C', 8)), given('Q2', book.dose('C', 8))];
  expect(kin(book, facts, 'D1', 'D2')).toBeCloseTo(0.5 + 0.25 / 8, 12);
  expect(kin(book, facts, 'D1', 'D3')).toBeCloseTo(0.25, 12);
});

test('the same drones homogenised are one pool: daughters of two queens share drones too, ¼ + ¼/n', () => {
  const book = ledgerBook();
  measured(book, 'C', 'M', Array(16).fill(1));
  book.write('C', { kind: 'homogenised' });
  const facts = [given('Q1', book.dose('C', 8)), given('Q2', book.dose('C', 8))];
  expect(kin(book, facts, 'D1', 'D2')).toBeCloseTo(0.5 + 0.25 / 16, 12);
  expect(kin(book, facts, 'D1', 'D3')).toBeCloseTo(0.25 + 0.25 / 16, 12);
});

test('unequal drones count by (Σv)²/Σv²: volumes 2, 1, 1 of one mother are 16/6 drones', () => {
  const book = ledgerBook();
  measured(book, 'C', 'M', [2, 1, 1]);
  const facts = [given('Q1', book.dose('C', 4))];
  expect(kin(book, facts, 'D1', 'D2')).toBeCloseTo(0.5 + 0.25 / (16 / 6), 12);
});

test('a poorly mixed batch lies between: each queen her own draws, d = (½ − A_pp)/n', () => {
  const book = ledgerBook();
  measured(book, 'C', 'M', Array(16).fill(1));
  book.write('C', { kind: 'stirred' });
  const facts = [given('Q1', book.dose('C', 8)), given('Q2', book.dose('C', 8))];
  const pool = 0.25 + 0.25 / 16;
  expect(kin(book, facts, 'D1', 'D2')).toBeCloseTo(0.25 + pool + (0.5 - pool) / 8, 12);
  expect(kin(book, facts, 'D1', 'D3')).toBeCloseTo(pool, 12);
});

test('drones of M "or" N are one or the other: ½ + ¼/n, not the ¼ + … of a mixture of two mothers', () => {
  const either = {
    kind: 'either' as const,
    options: ['M', 'N'].map((queen) => ({ of: { kind: 'mother' as const, queen }, weight: 0.5 })),
  };
  const one = matings('Q1', { inseminations: [dose(null, { stated: stated(8, [either, 1]) })] });
  expect(kin(ledgerBook(), [one], 'D1', 'D2')).toBeCloseTo(0.5 + 0.25 / 8, 12);
  expect(kin(ledgerBook(), [one], 'D1', 'M')).toBeCloseTo(0.25, 12);
  const mixed = matings('Q1', {
    inseminations: [dose(null, { stated: stated(8, [mother('M'), 0.5], [mother('N'), 0.5]) })],
  });
  expect(kin(ledgerBook(), [mixed], 'D1', 'D2')).toBeCloseTo(0.25 + 0.25 * 0.5 + 0.25 / 8, 12);
});

test('a line as source is one of its members, nobody knows which', () => {
  const word = { queen: 'Q1', day: null, ...stated(8, [{ kind: 'line', line: 'T' }, 1]) };
  expect(kin(ledgerBook(), [matings('Q1', { sellersWords: [word] })], 'D1', 'N')).toBeCloseTo(0.25, 12);
});

test('a daughter raised before her dam was inseminated again descends from the earlier pool', () => {
  const again = matings('Q1', {
    inseminations: [
      dose('2027-06-12', { stated: stated(1, [mother('M'), 1]), semen: 8 }),
      dose('2027-07-01', { stated: stated(1, [mother('N'), 1]), semen: 8 }),
    ],
  });
  expect(kin(ledgerBook(), [again], 'D1', 'M')).toBeCloseTo(0.5, 12);
  expect(kin(ledgerBook(), [again], 'D1', 'N')).toBeCloseTo(0, 12);
});
