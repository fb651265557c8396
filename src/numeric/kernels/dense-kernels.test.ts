import { describe, expect, test } from 'vitest';
import { randomStream } from '../random/random-stream.ts';
import { DEPENDENT, type DenseKernels, denseKernels, plainDenseKernels } from './dense-kernels.ts';
import { decodeBase64 } from './load.ts';

const ROOM = 60_000;

/** The same random heap for compiled and plain kernels, after which both must agree. */
function both(seed: number, run: (kernels: DenseKernels, fill: (at: number, values: Float64Array) => void) => unknown) {
  const compiled = denseKernels(ROOM);
  const plain = plainDenseKernels(ROOM);
  const random = randomStream(seed);
  const start = Float64Array.from({ length: ROOM }, () => random.normal());
  const answers = [compiled, plain].map((kernels) => {
    kernels.heap.set(start);
    return run(kernels, (at, values) => kernels.heap.set(values, at));
  });
  let largest = 0;
  for (let i = 0; i < ROOM; i++) largest = Math.max(largest, Math.abs((compiled.heap[i] ?? 0) - (plain.heap[i] ?? 0)));
  return { largest, answers };
}

/** A well-conditioned lower triangle of n rows, row after row. */
function triangle(n: number, seed: number): Float64Array {
  const random = randomStream(seed);
  return Float64Array.from({ length: n * n }, (_, at) => {
    const [i, j] = [Math.floor(at / n), at % n];
    return i === j ? 2 + random.uniform() : j < i ? random.normal() / n : 0;
  });
}

const sizes = [
  [1, 1, 1],
  [3, 5, 2],
  [4, 4, 4],
  [7, 9, 13],
  [40, 33, 65],
  [130, 20, 30],
  [9, 70, 300],
] as const;

test('the compiled kernels run here', () => {
  expect(denseKernels(10).subtractOuter.toString()).not.toBe(plainDenseKernels(10).subtractOuter.toString());
});

// Oracle: the plain twins.
test.each([
  [[0, 1, 4, 5, 8, 9], 'in pairs'],
  [[0, 2, 3, 7, 8], 'one by one'],
])('picked rows and columns %j (%s)', (columns) => {
  const run = (kernels: DenseKernels) => {
    const rows = [2, 3, 9];
    kernels.integers.set([...rows, ...columns], 100_000);
    const picked = { m: 3, n: columns.length, rows: 100_000, columns: 100_003 };
    kernels.scatterAdd(picked, 0, { at: 1000, ld: 12 });
    kernels.gather(picked, 5000, { at: 1000, ld: 12 });
    return kernels.heap[5000 + columns.length] === kernels.heap[1000 + 3 * 12 + (columns[0] ?? 0)];
  };
  const { largest, answers } = both(5, run);
  expect(largest).toBe(0);
  expect(answers).toEqual([true, true]);
});

// Oracle: the products by the definition; only columns up to the row's own are promised among the first rows, the others may hold anything.
test.each([
  [9, 6, 2, [0, 1, 4, 5, 8, 9]],
  [12, 6, 4, [0, 1, 4, 5, 8, 9]],
  [7, 5, 3, [0, 2, 3, 7, 8]],
  [5, 5, 1, [0, 2, 3, 7, 8]],
])('a narrow piece goes to picked rows and columns: %d × %d × %d', (m, n, k, columns) => {
  const rows = Array.from({ length: m }, (_, i) => i + 1 + Math.floor(i / 3));
  const [a, c, picked] = [{ at: 0, ld: k + 1 }, { at: 1000, ld: 11 }, 100_000];
  for (const kernels of [denseKernels(ROOM), plainDenseKernels(ROOM)]) {
    const random = randomStream(8);
    kernels.heap.set(Float64Array.from({ length: 2000 }, () => random.normal()));
    const before = kernels.heap.slice(0, 2000);
    kernels.integers.set([...rows, ...columns], picked);
    kernels.scatterOuter({ m, n, rows: picked, columns: picked + m }, k, a, c);
    const may = new Set<number>();
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < n; j++) {
        const at = c.at + (rows[i] ?? 0) * c.ld + (columns[j] ?? 0);
        may.add(at);
        if (j > i) continue;
        let expected = before[at] ?? 0;
        for (let p = 0; p < k; p++) expected -= (before[i * a.ld + p] ?? 0) * (before[j * a.ld + p] ?? 0);
        expect(kernels.heap[at]).toBeCloseTo(expected, 12);
      }
    }
    for (let at = 0; at < 2000; at++) if (!may.has(at)) expect(kernels.heap[at]).toBe(before[at]);
  }
});

test.each([
  [5, 5, 3],
  [300, 130, 20],
  [9, 4, 300],
  [131, 129, 257],
])('rows times themselves: %d × %d × %d', (m, n, k) => {
  const [a, c] = [
    { at: 0, ld: k + 1 },
    { at: 90_000, ld: n + 2 },
  ];
  for (const kernels of [denseKernels(140_000), plainDenseKernels(140_000)]) {
    const random = randomStream(9);
    for (let at = 0; at < 140_000; at++) kernels.heap[at] = random.normal();
    const before = kernels.heap.slice();
    kernels.subtractSymmetric({ m, n, k }, a, c);
    let largest = 0;
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < Math.min(n, i + 1); j++) {
        const at = c.at + i * c.ld + j;
        let expected = before[at] ?? 0;
        for (let p = 0; p < k; p++) expected -= (before[i * a.ld + p] ?? 0) * (before[j * a.ld + p] ?? 0);
        largest = Math.max(largest, Math.abs((kernels.heap[at] ?? 0) - expected));
      }
      for (const beside of [n, n + 1])
        expect(kernels.heap[c.at + i * c.ld + beside]).toBe(before[c.at + i * c.ld + beside]);
    }
    expect(largest).toBeLessThan(1e-10);
  }
});

describe.each(sizes)('%d × %d × %d', (m, n, k) => {
  const shape = { m, n, k };
  test('products', () => {
    const c = { at: 50_000, ld: n + 3 };
    expect(
      both(1, (kernels) =>
        kernels.subtractOuter(shape, { at: 0, ld: k + 1 }, { at: 45_000 - n * (k + 2), ld: k + 2 }, c),
      ).largest,
    ).toBeLessThan(1e-11);
    expect(
      both(2, (kernels) => kernels.addProduct(shape, { at: 0, ld: k + 1 }, { at: 40_000 - n * (k + 2), ld: n + 1 }, c))
        .largest,
    ).toBeLessThan(1e-11);
    expect(
      both(3, (kernels) => kernels.addTransposed(shape, { at: 0, ld: m + 1 }, { at: 42_000 - n * (k + 2), ld: n }, c))
        .largest,
    ).toBeLessThan(1e-11);
  });
});

describe.each([1, 2, 5, 31, 32, 33, 64, 100])('triangle of %d', (n) => {
  const l = triangle(n, n);
  test('solving from the right, and inverting', () => {
    const place = { at: 0, ld: n };
    const right = both(4, (kernels, fill) => {
      fill(0, l);
      kernels.solveRight(17, n, place, { at: 20_000, ld: n + 1 });
    });
    expect(right.largest).toBeLessThan(1e-12);
    const plain = both(5, (kernels, fill) => {
      fill(0, l);
      kernels.solveRightPlain(17, n, place, { at: 20_000, ld: n + 1 });
    });
    expect(plain.largest).toBeLessThan(1e-12);
    const inverted = both(6, (kernels, fill) => {
      fill(0, l);
      kernels.invertFactor(n, place, { at: 20_000, ld: n });
      kernels.heap.fill(0, 0, n * n);
    });
    expect(inverted.largest).toBeLessThan(1e-12);
  });
  test('factor, with a dependent column', () => {
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++)
        for (let p = 0; p < n - 1; p++) a[i * n + j] = (a[i * n + j] ?? 0) + (l[i * n + p] ?? 0) * (l[j * n + p] ?? 0);
    }
    const { largest, answers } = both(7, (kernels, fill) => {
      fill(0, a);
      kernels.heap.fill(1e-9, 30_000, 30_000 + n);
      const dependent = kernels.factor(n, { at: 0, ld: n }, 30_000);
      const last = kernels.heap[n * n - 1];
      for (let i = 0; i < n; i++) kernels.heap.fill(0, i * n + i + 1, i * n + n);
      return [dependent, last];
    });
    expect(answers).toEqual([
      [1, DEPENDENT],
      [1, DEPENDENT],
    ]);
    expect(largest).toBeLessThan(1e-11);
  });
});

test('base64 is read as Node reads it', () => {
  for (const text of ['', 'QQ==', 'QUI=', 'QUJD', '+/8A'])
    expect([...decodeBase64(text)]).toEqual([...Buffer.from(text, 'base64')]);
});
