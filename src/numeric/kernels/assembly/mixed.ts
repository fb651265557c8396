/**
 * Products with the equations of a mixed model and with their incomplete factor; AssemblyScript. The plain twins are numeric/mixed/operator.ts and
 * block-factor.ts, which say what is worked out. One system an instance: its arrays are named once in a table of byte addresses.
 * The factor is stored in single precision: it is only a preconditioner, and half the bytes are read in half the time.
 */

let nodes: i32 = 0, effects: i32 = 0, traits: i32 = 0, features: i32 = 0, classes: i32 = 0, factors: i32 = 0, levels: i32 = 0;
let start: usize = 0, older: usize = 0, weight: usize = 0, inverseOwn: usize = 0, inverseG: usize = 0;
let featureStart: usize = 0, featureNode: usize = 0, first: usize = 0, second: usize = 0;
let left: usize = 0, right: usize = 0, recordWeight: usize = 0, classStart: usize = 0, inverseClass: usize = 0, recordLevel: usize = 0;
let value: usize = 0, gradient: usize = 0, weighted: usize = 0, room: usize = 0;
let pairStart: usize = 0, pairOlder: usize = 0, pivot: usize = 0, coupling: usize = 0, levelInverse: usize = 0;

/** Reads the table: 7 counts, then the addresses, all as 32-bit words in the order of the declarations above. */
export function describe(table: usize): void {
  nodes = load<i32>(table);
  effects = load<i32>(table, 4);
  traits = load<i32>(table, 8);
  features = load<i32>(table, 12);
  classes = load<i32>(table, 16);
  factors = load<i32>(table, 20);
  levels = load<i32>(table, 24);
  start = load<u32>(table, 28);
  older = load<u32>(table, 32);
  weight = load<u32>(table, 36);
  inverseOwn = load<u32>(table, 40);
  inverseG = load<u32>(table, 44);
  featureStart = load<u32>(table, 48);
  featureNode = load<u32>(table, 52);
  first = load<u32>(table, 56);
  second = load<u32>(table, 60);
  left = load<u32>(table, 64);
  right = load<u32>(table, 68);
  recordWeight = load<u32>(table, 72);
  classStart = load<u32>(table, 76);
  inverseClass = load<u32>(table, 80);
  recordLevel = load<u32>(table, 84);
  value = load<u32>(table, 88);
  gradient = load<u32>(table, 92);
  weighted = load<u32>(table, 96);
  room = load<u32>(table, 100);
  pairStart = load<u32>(table, 104);
  pairOlder = load<u32>(table, 108);
  pivot = load<u32>(table, 112);
  coupling = load<u32>(table, 116);
  levelInverse = load<u32>(table, 120);
}

// @ts-ignore: decorator
@inline
function int(at: usize, k: i32): i32 {
  return load<i32>(at + (<usize>k << 2));
}
// @ts-ignore: decorator
@inline
function num(at: usize, k: i32): f64 {
  return load<f64>(at + (<usize>k << 3));
}
// @ts-ignore: decorator
@inline
function put(at: usize, k: i32, x: f64): void {
  store<f64>(at + (<usize>k << 3), x);
}
/** Two single-precision numbers as doubles. */
// @ts-ignore: decorator
@inline
function twoSingles(at: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(at));
}

/** out = (prior + Z'MZ) x. */
export function multiply(x: usize, out: usize): void {
  memory.fill(out, 0, <usize>(nodes * effects + levels * traits) << 3);
  if (traits === 1) {
    priorOne(x, out);
    readOne(x);
    recordsOne(x, out);
    spreadOne(out);
  } else {
    priorMany(x, out);
    readMany(x);
    recordsMany(x, out);
    spreadMany(out);
  }
}

function priorOne(x: usize, out: usize): void {
  const g0 = v128.load(inverseG), g1 = v128.load(inverseG, 16);
  for (let i = 0; i < nodes; i++) {
    const from = int(start, i), to = int(start, i + 1);
    let v = v128.load(x + (<usize>i << 4));
    for (let k = from; k < to; k++) {
      v = f64x2.sub(v, f64x2.mul(v128.load64_splat(weight + (<usize>k << 3)), v128.load(x + (<usize>int(older, k) << 4))));
    }
    v = f64x2.mul(v, v128.load64_splat(inverseOwn + (<usize>i << 3)));
    const e = f64x2.add(
      f64x2.mul(f64x2.splat(f64x2.extract_lane(v, 0)), g0),
      f64x2.mul(f64x2.splat(f64x2.extract_lane(v, 1)), g1),
    );
    const own = out + (<usize>i << 4);
    v128.store(own, f64x2.add(v128.load(own), e));
    for (let k = from; k < to; k++) {
      const other = out + (<usize>int(older, k) << 4);
      v128.store(other, f64x2.sub(v128.load(other), f64x2.mul(v128.load64_splat(weight + (<usize>k << 3)), e)));
    }
  }
}

function readOne(x: usize): void {
  for (let f = 0; f < features; f++) {
    let sum: f64 = 0;
    const to = int(featureStart, f + 1);
    for (let k = int(featureStart, f); k < to; k++) {
      const at = x + (<usize>int(featureNode, k) << 4);
      sum += num(first, k) * load<f64>(at) + num(second, k) * load<f64>(at, 8);
    }
    put(value, f, sum);
  }
  put(value, features, 0);
}

function recordsOne(x: usize, out: usize): void {
  memory.fill(gradient, 0, <usize>(features + 1) << 3);
  const levelAt = <usize>(nodes * effects) << 3;
  for (let c = 0; c < classes; c++) {
    const from = int(classStart, c), to = int(classStart, c + 1);
    let total: f64 = 0;
    for (let r = from; r < to; r++) {
      let v = num(value, int(left, r)) + num(value, int(right, r));
      for (let k = 0; k < factors; k++) {
        const level = int(recordLevel, r * factors + k);
        if (level >= 0) v += num(x + levelAt, level);
      }
      const s = num(recordWeight, r) * v;
      total += s;
      put(weighted, r - from, s);
    }
    const mean = total * num(inverseClass, c);
    for (let r = from; r < to; r++) {
      const s = num(weighted, r - from) - num(recordWeight, r) * mean;
      const l = int(left, r), g = int(right, r);
      put(gradient, l, num(gradient, l) + s);
      put(gradient, g, num(gradient, g) + s);
      for (let k = 0; k < factors; k++) {
        const level = int(recordLevel, r * factors + k);
        if (level >= 0) put(out + levelAt, level, num(out + levelAt, level) + s);
      }
    }
  }
}

function spreadOne(out: usize): void {
  for (let f = 0; f < features; f++) {
    const g = num(gradient, f);
    const to = int(featureStart, f + 1);
    for (let k = int(featureStart, f); k < to; k++) {
      const at = out + (<usize>int(featureNode, k) << 4);
      store<f64>(at, load<f64>(at) + num(first, k) * g);
      store<f64>(at, load<f64>(at, 8) + num(second, k) * g, 8);
    }
  }
}

/** `room` holds two rows of `effects` numbers and two of `traits`. */
function priorMany(x: usize, out: usize): void {
  const q = effects;
  const bytes = <usize>q << 3;
  const v = room, e = room + bytes;
  for (let i = 0; i < nodes; i++) {
    const from = int(start, i), to = int(start, i + 1);
    memory.copy(v, x + <usize>i * bytes, bytes);
    for (let k = from; k < to; k++) {
      const w = v128.load64_splat(weight + (<usize>k << 3));
      const other = x + <usize>int(older, k) * bytes;
      for (let a: usize = 0; a < bytes; a += 16) v128.store(v + a, f64x2.sub(v128.load(v + a), f64x2.mul(w, v128.load(other + a))));
    }
    const inverse = v128.load64_splat(inverseOwn + (<usize>i << 3));
    memory.fill(e, 0, bytes);
    for (let f = 0; f < q; f++) {
      const vf = f64x2.mul(inverse, v128.load64_splat(v + (<usize>f << 3)));
      const row = inverseG + <usize>f * bytes;
      for (let a: usize = 0; a < bytes; a += 16) v128.store(e + a, f64x2.add(v128.load(e + a), f64x2.mul(vf, v128.load(row + a))));
    }
    const own = out + <usize>i * bytes;
    for (let a: usize = 0; a < bytes; a += 16) v128.store(own + a, f64x2.add(v128.load(own + a), v128.load(e + a)));
    for (let k = from; k < to; k++) {
      const w = v128.load64_splat(weight + (<usize>k << 3));
      const other = out + <usize>int(older, k) * bytes;
      for (let a: usize = 0; a < bytes; a += 16) v128.store(other + a, f64x2.sub(v128.load(other + a), f64x2.mul(w, v128.load(e + a))));
    }
  }
}

function readMany(x: usize): void {
  const bytes = <usize>effects << 3;
  for (let f = 0; f < features; f++) {
    const to = int(featureStart, f + 1);
    const into = value + (<usize>(f * traits) << 3);
    for (let t = 0; t < traits; t++) put(into, t, 0);
    for (let k = int(featureStart, f); k < to; k++) {
      const at = x + <usize>int(featureNode, k) * bytes;
      const a = num(first, k), b = num(second, k);
      for (let t = 0; t < traits; t++) put(into, t, num(into, t) + a * num(at, 2 * t) + b * num(at, 2 * t + 1));
    }
  }
  memory.fill(value + (<usize>(features * traits) << 3), 0, <usize>traits << 3);
}

function recordsMany(x: usize, out: usize): void {
  const t = traits;
  memory.fill(gradient, 0, <usize>((features + 1) * t) << 3);
  const levelAt = <usize>(nodes * effects) << 3;
  const v = room + (<usize>(2 * effects) << 3), total = v + (<usize>t << 3), mean = total + (<usize>t << 3);
  for (let c = 0; c < classes; c++) {
    const from = int(classStart, c), to = int(classStart, c + 1);
    for (let s = 0; s < t; s++) put(total, s, 0);
    for (let r = from; r < to; r++) {
      const l = value + (<usize>(int(left, r) * t) << 3), g = value + (<usize>(int(right, r) * t) << 3);
      for (let s = 0; s < t; s++) put(v, s, num(l, s) + num(g, s));
      for (let k = 0; k < factors; k++) {
        const level = int(recordLevel, r * factors + k);
        if (level >= 0) for (let s = 0; s < t; s++) put(v, s, num(v, s) + num(x + levelAt, level * t + s));
      }
      const w = recordWeight + (<usize>(r * t * t) << 3);
      const into = weighted + (<usize>((r - from) * t) << 3);
      for (let s = 0; s < t; s++) {
        let sum: f64 = 0;
        for (let u = 0; u < t; u++) sum += num(w, s * t + u) * num(v, u);
        put(into, s, sum);
        put(total, s, num(total, s) + sum);
      }
    }
    const inverse = inverseClass + (<usize>(c * t * t) << 3);
    for (let s = 0; s < t; s++) {
      let sum: f64 = 0;
      for (let u = 0; u < t; u++) sum += num(inverse, s * t + u) * num(total, u);
      put(mean, s, sum);
    }
    for (let r = from; r < to; r++) {
      const w = recordWeight + (<usize>(r * t * t) << 3);
      const own = weighted + (<usize>((r - from) * t) << 3);
      const l = gradient + (<usize>(int(left, r) * t) << 3), g = gradient + (<usize>(int(right, r) * t) << 3);
      for (let s = 0; s < t; s++) {
        let sum = num(own, s);
        for (let u = 0; u < t; u++) sum -= num(w, s * t + u) * num(mean, u);
        put(l, s, num(l, s) + sum);
        put(g, s, num(g, s) + sum);
        for (let k = 0; k < factors; k++) {
          const level = int(recordLevel, r * factors + k);
          if (level >= 0) put(out + levelAt, level * t + s, num(out + levelAt, level * t + s) + sum);
        }
      }
    }
  }
}

function spreadMany(out: usize): void {
  const bytes = <usize>effects << 3;
  for (let f = 0; f < features; f++) {
    const from = gradient + (<usize>(f * traits) << 3);
    const to = int(featureStart, f + 1);
    for (let k = int(featureStart, f); k < to; k++) {
      const at = out + <usize>int(featureNode, k) * bytes;
      const a = num(first, k), b = num(second, k);
      for (let t = 0; t < traits; t++) {
        const g = num(from, t);
        put(at, 2 * t, num(at, 2 * t) + a * g);
        put(at, 2 * t + 1, num(at, 2 * t + 1) + b * g);
      }
    }
  }
}

/** z = M⁻¹ r. */
export function precondition(r: usize, z: usize): void {
  memory.copy(z, r, <usize>(nodes * effects + levels * traits) << 3);
  if (traits === 1) factorOne(z);
  else factorMany(z);
  const first = z + (<usize>(nodes * effects) << 3);
  for (let l = 0; l < levels; l++) {
    const at = first + (<usize>(l * traits) << 3);
    const inverse = levelInverse + (<usize>(l * traits * traits) << 3);
    for (let i = 0; i < traits; i++) {
      let sum: f64 = 0;
      for (let j = 0; j < traits; j++) sum += num(inverse, i * traits + j) * num(at, j);
      put(room, i, sum);
    }
    memory.copy(at, room, <usize>traits << 3);
  }
}

function factorOne(z: usize): void {
  for (let i = nodes - 1; i >= 0; i--) {
    const from = int(pairStart, i), to = int(pairStart, i + 1);
    if (from === to) continue;
    const own = v128.load(z + (<usize>i << 4));
    const a = f64x2.splat(f64x2.extract_lane(own, 0)), b = f64x2.splat(f64x2.extract_lane(own, 1));
    for (let k = from; k < to; k++) {
      const other = z + (<usize>int(pairOlder, k) << 4);
      const block = coupling + (<usize>k << 4);
      const moved = f64x2.add(f64x2.mul(a, twoSingles(block)), f64x2.mul(b, twoSingles(block + 8)));
      v128.store(other, f64x2.sub(v128.load(other), moved));
    }
  }
  for (let i = 0; i < nodes; i++) {
    const at = z + (<usize>i << 4);
    const from = int(pairStart, i), to = int(pairStart, i + 1);
    const own = v128.load(at);
    const p = pivot + (<usize>i << 4);
    let sum = f64x2.add(
      f64x2.mul(f64x2.splat(f64x2.extract_lane(own, 0)), twoSingles(p)),
      f64x2.mul(f64x2.splat(f64x2.extract_lane(own, 1)), twoSingles(p + 8)),
    );
    for (let k = from; k < to; k++) {
      const other = v128.load(z + (<usize>int(pairOlder, k) << 4));
      const block = coupling + (<usize>k << 4);
      const a = f64x2.mul(twoSingles(block), other), b = f64x2.mul(twoSingles(block + 8), other);
      // (a0 + a1, b0 + b1)
      const low = v128.shuffle<f64>(a, b, 0, 2), high = v128.shuffle<f64>(a, b, 1, 3);
      sum = f64x2.sub(sum, f64x2.add(low, high));
    }
    v128.store(at, sum);
  }
}

function factorMany(z: usize): void {
  const q = effects;
  const bytes = <usize>q << 3;
  const size = <usize>(q * q) << 2;
  const row = <usize>q << 2;
  const own = room;
  for (let i = nodes - 1; i >= 0; i--) {
    const at = z + <usize>i * bytes;
    const to = int(pairStart, i + 1);
    for (let k = int(pairStart, i); k < to; k++) {
      const other = z + <usize>int(pairOlder, k) * bytes;
      const block = coupling + <usize>k * size;
      for (let e = 0; e < q; e += 2) {
        let sum = f64x2.splat(0);
        let from = block + (<usize>e << 2);
        for (let f = 0; f < q; f++) {
          sum = f64x2.add(sum, f64x2.mul(v128.load64_splat(at + (<usize>f << 3)), twoSingles(from)));
          from += row;
        }
        const into = other + (<usize>e << 3);
        v128.store(into, f64x2.sub(v128.load(into), sum));
      }
    }
  }
  for (let i = 0; i < nodes; i++) {
    const at = z + <usize>i * bytes;
    const p = pivot + <usize>i * size;
    for (let e = 0; e < q; e += 2) {
      let sum = f64x2.splat(0);
      let from = p + (<usize>e << 2);
      for (let f = 0; f < q; f++) {
        sum = f64x2.add(sum, f64x2.mul(v128.load64_splat(at + (<usize>f << 3)), twoSingles(from)));
        from += row;
      }
      v128.store(own + (<usize>e << 3), sum);
    }
    const to = int(pairStart, i + 1);
    for (let k = int(pairStart, i); k < to; k++) {
      const other = z + <usize>int(pairOlder, k) * bytes;
      const block = coupling + <usize>k * size;
      for (let e = 0; e < q; e++) {
        let sum = f64x2.splat(0);
        const from = block + <usize>e * row;
        for (let f = 0; f < q; f += 2) {
          sum = f64x2.add(sum, f64x2.mul(twoSingles(from + (<usize>f << 2)), v128.load(other + (<usize>f << 3))));
        }
        put(own, e, num(own, e) - f64x2.extract_lane(sum, 0) - f64x2.extract_lane(sum, 1));
      }
    }
    memory.copy(at, own, bytes);
  }
}

/** Σ a_k b_k of n doubles, added up in four running sums: always in the same order, not that of a plain loop. 0 when n is 0. */
export function dot(a: usize, b: usize, n: i32): f64 {
  let s = f64x2.splat(0);
  let u = f64x2.splat(0);
  let k = 0;
  for (; k + 4 <= n; k += 4) {
    const at = <usize>k << 3;
    s = f64x2.add(s, f64x2.mul(v128.load(a + at), v128.load(b + at)));
    u = f64x2.add(u, f64x2.mul(v128.load(a + at, 16), v128.load(b + at, 16)));
  }
  s = f64x2.add(s, u);
  let sum = f64x2.extract_lane(s, 0) + f64x2.extract_lane(s, 1);
  for (; k < n; k++) sum += num(a, k) * num(b, k);
  return sum;
}

/** a += scale · b. */
export function addScaled(a: usize, b: usize, scale: f64, n: i32): void {
  const s = f64x2.splat(scale);
  let k = 0;
  for (; k + 2 <= n; k += 2) {
    const at = a + (<usize>k << 3);
    v128.store(at, f64x2.add(v128.load(at), f64x2.mul(s, v128.load(b + (<usize>k << 3)))));
  }
  if (k < n) put(a, k, num(a, k) + scale * num(b, k));
}

/** p = z + beta · p. */
export function turn(p: usize, z: usize, beta: f64, n: i32): void {
  const s = f64x2.splat(beta);
  let k = 0;
  for (; k + 2 <= n; k += 2) {
    const at = p + (<usize>k << 3);
    v128.store(at, f64x2.add(v128.load(z + (<usize>k << 3)), f64x2.mul(s, v128.load(at))));
  }
  if (k < n) put(p, k, num(z, k) + beta * num(p, k));
}

/** x += alpha p, r −= alpha q; the new r·r. */
export function step(x: usize, p: usize, r: usize, q: usize, alpha: f64, n: i32): f64 {
  const s = f64x2.splat(alpha);
  let sum = f64x2.splat(0);
  let k = 0;
  for (; k + 2 <= n; k += 2) {
    const at = <usize>k << 3;
    v128.store(x + at, f64x2.add(v128.load(x + at), f64x2.mul(s, v128.load(p + at))));
    const rest = f64x2.sub(v128.load(r + at), f64x2.mul(s, v128.load(q + at)));
    v128.store(r + at, rest);
    sum = f64x2.add(sum, f64x2.mul(rest, rest));
  }
  let total = f64x2.extract_lane(sum, 0) + f64x2.extract_lane(sum, 1);
  if (k < n) {
    put(x, k, num(x, k) + alpha * num(p, k));
    const rest = num(r, k) - alpha * num(q, k);
    put(r, k, rest);
    total += rest * rest;
  }
  return total;
}
