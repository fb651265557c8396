import { expect, test } from 'vitest';
import { openBoard } from '#domain/insemination/bench-board.ts';
import type { KnownLabel } from '#questions/bench/board-labels.ts';
import { resolveLabel } from './resolve-label.ts';

const board = openBoard({
  cross: 'B',
  usualDose: 8,
  queue: [{ queen: 'q7', cage: 'k7' }],
  rack: [{ tube: 't7', left: 50, end: 'filled', collectFrom: null }],
  elsewhere: { queens: [], tubes: [] },
  tip: 1,
});
const labels: KnownLabel[] = [
  { kind: 'cage', id: 'k1', text: '7a', beside: '' },
  { kind: 'cage', id: 'k7', text: '7', beside: '' },
  { kind: 'tube', id: 't1', text: '7', beside: '' },
  { kind: 'queen', id: 'q7', text: '27-007', beside: '' },
  { kind: 'tube', id: 't7', text: 'C-07', beside: '' },
];
const read = (text: string) => resolveLabel(text, board, labels);

test.each([
  ['27-007', 'queen', 'q7'],
  [' c-07 ', 'tube', 't7'],
  ['7', 'cage', 'k7'],
  ['T:7', 'tube', 't1'],
  ['k:7', 'cage', 'k7'],
])('%s is the %s of the open cross where there are several', (text, kind, id) => {
  expect(read(text)).toMatchObject({ kind: 'label', label: { kind, id } });
});

test('what no book knows is told as it was read', () => {
  expect(read('5901234123457')).toEqual({ kind: 'unknown', text: '5901234123457' });
});

test.each(['KEYTAKEN', 'KEZTAKEN'])('%s is a key of the bench sheet, on either keyboard', (text) => {
  expect(read(text)).toEqual({ kind: 'command', command: 'TAKEN' });
});
