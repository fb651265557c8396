import { expect, test } from 'vitest';
import { tableText } from './table.ts';

test('columns are as wide as their widest cell, numbers to the right', () => {
  const rows = [
    ['A', 0.5],
    ['Q-1234', null],
  ] as const;
  expect(tableText({ title: 'kinship', columns: ['queen', 'F'], rows })).toBe(
    'kinship\nqueen     F\n──────  ───\nA       0.5\nQ-1234    –',
  );
});

// A call takes its arguments from the stack, which holds some hundred thousand; rows are no arguments.
test('a table of half a million rows is laid out', () => {
  const rows = Array.from({ length: 500_000 }, (_, i) => [`Q${i}`, i] as const);
  const lines = tableText({ columns: ['queen', 'n'], rows }).split('\n');
  expect(lines).toHaveLength(500_002);
  expect(lines.at(-1)).toBe('Q499999  499999');
});
