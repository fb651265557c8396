import { expect, test } from 'vitest';
import { type Assumption, sayAssumption, sayAssumptionsInShort } from './assumption.ts';

const open = (i: number): Assumption => ({ code: 'open-mated', queen: `Q${i}`, drones: 12 });
const group: Assumption = { code: 'sister-group', queen: 'G', sisters: 4 };

test('a million of one kind are twenty lines and a count; other kinds stand beside', () => {
  const many = Array.from({ length: 1_000_000 }, (_, i) => open(i));
  const said = sayAssumptionsInShort([...many, group]);
  expect(said).toHaveLength(22);
  expect(said.slice(0, 2)).toEqual([sayAssumption(open(0)), sayAssumption(open(1))]);
  expect(said[20]).toBe(sayAssumption(group));
  expect(said[21]).toBe('999980 more of the kind "open-mated"; --json lists every one');
});

test('twenty or fewer are all written out', () => {
  const few = Array.from({ length: 20 }, (_, i) => open(i));
  expect(sayAssumptionsInShort(few)).toEqual(few.map(sayAssumption));
  expect(sayAssumptionsInShort([])).toEqual([]);
});
