import { expect, test } from 'vitest';
import { edits, nearness } from './nearness.ts';

test('counts edits as the textbook does (Navarro 2001: "survey" to "surgery" is 2)', () => {
  expect(edits('survey', 'surgery')).toBe(2);
  expect(edits('ab', 'ba')).toBe(1);
  expect(edits('', 'abc')).toBe(3);
});

test('dashes, case and accents do not matter', () => {
  expect(nearness('26014', '26-014')).toBe(100);
  expect(nearness('zuzek', 'Žužek')).toBe(100);
});

test('a whole code is nearer than a beginning, a beginning nearer than a part, a part nearer than a slip', () => {
  const order = ['26-014', '26-0145', 'x26-014', '26-104'].map((code) => nearness('26-014', code));
  expect(order).toEqual([...order].sort((a, b) => b - a));
  expect(order.every((near) => near > 0)).toBe(true);
});

test('forgives one slip from four letters on, none below', () => {
  expect(nearness('heatehr', 'heather')).toBeGreaterThan(0);
  expect(nearness('r07', 'r09')).toBe(0);
});
