import { describe, expect, test } from 'vitest';
import { randomStream } from '../random/random-stream.ts';
import type { Cliques } from './cliques.ts';
import { minimumDegree } from './minimum-degree.ts';

function cliquesOf(size: number, lists: number[][], weight?: number[]): Cliques {
  const start = [0];
  for (const list of lists) start.push((start.at(-1) ?? 0) + list.length);
  return {
    size,
    weight: Int32Array.from(weight ?? Array(size).fill(1)),
    count: lists.length,
    start: Int32Array.from(start),
    member: Int32Array.from(lists.flat()),
  };
}

/** Non-zeros of the factor when eliminating in this order, by the definition. */
function fill(size: number, lists: number[][], order: Int32Array): number {
  const neighbours = Array.from({ length: size }, () => new Set<number>());
  for (const list of lists) for (const a of list) for (const b of list) if (a !== b) neighbours[a]?.add(b);
  let count = 0;
  for (const v of order) {
    const around = [...(neighbours[v] ?? [])];
    count += around.length + 1;
    for (const a of around) {
      neighbours[a]?.delete(v);
      for (const b of around) if (a !== b) neighbours[a]?.add(b);
    }
  }
  return count;
}

const grid = (side: number): number[][] => {
  const lists: number[][] = [];
  for (let i = 0; i < side; i++) {
    for (let j = 0; j < side; j++) {
      if (i + 1 < side) lists.push([i * side + j, (i + 1) * side + j]);
      if (j + 1 < side) lists.push([i * side + j, i * side + j + 1]);
    }
  }
  return lists;
};

test('every vertex stands once in the order', () => {
  for (let seed = 1; seed < 60; seed++) {
    const random = randomStream(seed);
    const size = 1 + random.below(40);
    const lists = Array.from({ length: random.below(60) }, () => [
      ...new Set(Array.from({ length: 1 + random.below(5) }, () => random.below(size))),
    ]);
    const weight = Array.from({ length: size }, () => 1 + random.below(4));
    const { order } = minimumDegree(cliquesOf(size, lists, weight));
    expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: size }, (_, i) => i));
  }
});

describe('fill', () => {
  test('a tree has none', () => {
    const lists = Array.from({ length: 99 }, (_, i) => [i + 1, Math.floor(i / 2)]);
    const { order } = minimumDegree(cliquesOf(100, lists));
    expect(fill(100, lists, order)).toBe(199);
  });
  test('an arrow is eliminated from its tips', () => {
    const lists = Array.from({ length: 50 }, (_, i) => [0, i + 1]);
    const { order } = minimumDegree(cliquesOf(51, lists));
    expect(fill(51, lists, order)).toBe(101);
  });
  test('a square grid: far less than in its own order, and near 31 n log₂ n / 8 (nested dissection, George 1973)', () => {
    const side = 40;
    const n = side * side;
    const lists = grid(side);
    const natural = fill(
      n,
      lists,
      Int32Array.from({ length: n }, (_, i) => i),
    );
    const ours = fill(n, lists, minimumDegree(cliquesOf(n, lists)).order);
    expect(ours).toBeLessThan(0.45 * natural);
    expect(ours).toBeLessThan(((31 / 8) * n * Math.log2(n)) / 2);
  });
});

test('vertices of one group have the same structure', () => {
  const random = randomStream(5);
  const size = 60;
  const lists = Array.from({ length: 50 }, () => [...new Set(Array.from({ length: 4 }, () => random.below(size)))]);
  const { order, group } = minimumDegree(cliquesOf(size, lists));
  const position = new Int32Array(size);
  order.forEach((v, k) => {
    position[v] = k;
  });
  const neighbours = Array.from({ length: size }, () => new Set<number>());
  for (const list of lists) for (const a of list) for (const b of list) if (a !== b) neighbours[a]?.add(b);
  let before: { group: number; rest: string } | null = null;
  for (const v of order) {
    const around = [...(neighbours[v] ?? [])];
    if (before && before.group === group[v]) expect([...around].sort((a, b) => a - b).join()).toBe(before.rest);
    for (const a of around) {
      neighbours[a]?.delete(v);
      for (const b of around) if (a !== b) neighbours[a]?.add(b);
    }
    const next = order[(position[v] ?? 0) + 1];
    before = {
      group: group[v] ?? -1,
      rest: around
        .filter((a) => a !== next)
        .sort((a, b) => a - b)
        .join(),
    };
  }
});
