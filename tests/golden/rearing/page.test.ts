import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { chanceOfQueens, larvaeNeeded, queenShares } from '#domain/rearing/chances/queen-losses.ts';
import { standardText } from '#domain/rearing/standard-text.ts';

/** docs/rearing.md tells a breeder figures; they must be those the computation uses. */
const page = readFileSync('docs/rearing.md', 'utf8');
const cellsOf = (label: string) =>
  page
    .split('\n')
    .find((line) => line.startsWith(`| ${label} |`))
    ?.split('|')
    .map((cell) => cell.trim()) ?? [];

const { survivals, yields } = standardText;
it.each([
  ['larvae accepted', survivals.accepted],
  ['cells that emerge', survivals.emergedQueens],
  ['virgins sound and found on the day', survivals.readyQueens],
  ['inseminated queens that lay worker brood', survivals.layingQueens],
  ['drone cells laid of a comb', survivals.cellsLaid],
  ['laid cells that give a drone', survivals.emergedDrones],
  ['drones alive at 14 days', survivals.dronesAtFourteen],
  ['drones caught of those there', survivals.caughtDrones],
  ['drones that give semen', survivals.yielding],
  ['semen left in tip and tube', yields.leftBehind],
])('the page gives the figure for %s', (label, { value, low, high }) => {
  const [, , middle, range] = cellsOf(label);
  expect(middle).toBe(`${Number((value * 100).toFixed(1))} %`);
  expect(range).toBe(`${Math.round(low * 100)}-${Math.round(high * 100)}`);
});

it('the page’s own example holds: 19 larvae are enough in little more than half of all seasons, 26 in nine of ten', () => {
  const shares = queenShares(standardText, { daysBefore: 20, ages: standardText.queens.hard });
  expect(chanceOfQueens(12, 19, shares)).toBeGreaterThan(0.5);
  expect(chanceOfQueens(12, 19, shares)).toBeLessThan(0.65);
  expect(larvaeNeeded(12, shares, 0.9)).toBe(26);
});
