/** Solves the equations of a {@link MixedSystem} by preconditioned conjugate gradients, with compiled kernels where they run, else plainly. */
import { type Machine, startMachine } from '../kernels/load.ts';
import { applyFactor, type BlockFactor, blockFactor } from './block-factor.ts';
import { conjugateGradients, type LinearSystem, type Solved, type Stopping } from './conjugate-gradients.ts';
import { makeOperator, multiply, type Operator } from './operator.ts';
import { classesOf, type MixedSystem, unknownsOf } from './system.ts';

/** The equations made ready: products, the preconditioner, and solutions for any right-hand side. */
export type Solver = LinearSystem & {
  readonly factor: BlockFactor;
  readonly operator: Operator;
  /** Whether the compiled kernels run. */
  readonly compiled: boolean;
  /** `x` holds the start, then the solution. */
  solve(b: Float64Array, x: Float64Array, stopping: Stopping): Solved;
};

/**
 * A solver for a system; the factor is made once for all right-hand sides. The compiled one works on a copy, so later changes of the system do not
 * reach it, and keeps the preconditioner in single precision, which bears on how many iterations it takes, not on what it converges to. Throws as
 * {@link blockFactor}.
 * @param options `plain` leaves the compiled kernels out
 * @example const solver = makeSolver(workedSystem);
 * const [b, x] = [makeVector(workedSystem), makeVector(workedSystem)];
 * rightHandSide(solver.operator, workedSystem.observations.y, b);
 * solver.solve(b, x, { tolerance: 1e-12, mostIterations: 10 }); x // [1 / 3, 0, -1 / 3, 0]
 */
export function makeSolver(system: MixedSystem, options: { plain?: boolean } = {}): Solver {
  const operator = makeOperator(system);
  const factor = blockFactor(system);
  const compiled = options.plain ? null : compile(operator, factor);
  return compiled ?? plainSolver(operator, factor);
}

function plainSolver(operator: Operator, factor: BlockFactor): Solver {
  const system: LinearSystem = {
    multiply: (x, out) => multiply(operator, x, out),
    precondition: (r, z) => applyFactor(factor, r, z),
  };
  return {
    ...system,
    factor,
    operator,
    compiled: false,
    solve: (b, x, stopping) => conjugateGradients(system, b, x, stopping),
  };
}

type Piece = Int32Array | Float64Array | Float32Array;

/** Arrays of one system in the order the kernels' table names them, with how many bytes each takes. */
function piecesOf(operator: Operator, factor: BlockFactor): Piece[] {
  const { system } = operator;
  const { recursion, features, observations, traits: t, effects: q } = system;
  const none = (ids: Int32Array) => ids.map((id) => (id < 0 ? features.count : id));
  return [
    recursion.start,
    recursion.older,
    recursion.weight,
    recursion.own.map((own) => 1 / own),
    system.inverseG,
    features.start,
    features.node,
    features.first,
    features.second,
    none(observations.left),
    none(observations.right),
    observations.weight,
    observations.classStart,
    operator.inverseClass,
    observations.levels,
    new Float64Array((features.count + 1) * t),
    new Float64Array((features.count + 1) * t),
    operator.weighted,
    new Float64Array(2 * q + 4 * t + 4),
    factor.pattern.start,
    factor.pattern.older,
    Float32Array.from(factor.pivot),
    Float32Array.from(factor.coupling),
    factor.level,
  ];
}

const padded = (bytes: number): number => Math.ceil(bytes / 16) * 16;

/** Vectors the kernels work on: x, r, z, p, q. */
const VECTORS = 5;

function compile(operator: Operator, factor: BlockFactor): Solver | null {
  const pieces = piecesOf(operator, factor);
  const n = unknownsOf(operator.system);
  const vectorBytes = padded(n * 8);
  const table = 7 + pieces.length;
  const bytes =
    pieces.reduce((sum, piece) => sum + padded(piece.byteLength), 0) + VECTORS * vectorBytes + padded(table * 4);
  const machine = startMachine(Math.ceil(bytes / 8));
  if (machine === null) return null;
  const vectors = fillMemory(machine, operator.system, pieces, { vectorBytes, table });
  return compiledSolver(machine, { operator, factor, n, vectors });
}

type Layout = { vectorBytes: number; table: number };

/** Copies the pieces in, writes the table, and answers the byte addresses of the vectors. */
function fillMemory(
  { exports, heap, base }: Machine,
  system: MixedSystem,
  pieces: readonly Piece[],
  { vectorBytes, table }: Layout,
): number[] {
  const bytes = new Uint8Array(heap.buffer, heap.byteOffset, heap.byteLength);
  const addresses: number[] = [];
  let at = 0;
  for (const piece of pieces) {
    bytes.set(new Uint8Array(piece.buffer, piece.byteOffset, piece.byteLength), at);
    addresses.push(base + at);
    at += padded(piece.byteLength);
  }
  const vectors = Array.from({ length: VECTORS }, (_, k) => base + at + k * vectorBytes);
  at += VECTORS * vectorBytes;
  const words = new Uint32Array(heap.buffer, heap.byteOffset + at, table);
  const { recursion, effects, traits, features, factors, levelCount } = system;
  words.set([recursion.size, effects, traits, features.count, classesOf(system), factors, levelCount, ...addresses]);
  exports.describe(base + at);
  return vectors;
}

type Compiled = { operator: Operator; factor: BlockFactor; n: number; vectors: number[] };

function compiledSolver({ exports, heap, base }: Machine, { operator, factor, n, vectors }: Compiled): Solver {
  const [x = 0, r = 0, z = 0, p = 0, q = 0] = vectors;
  const view = (address: number) => heap.subarray((address - base) / 8, (address - base) / 8 + n);
  const through = (run: (from: number, to: number) => void) => (from: Float64Array, to: Float64Array) => {
    view(p).set(from);
    run(p, q);
    to.set(view(q));
  };
  const solve = (b: Float64Array, start: Float64Array, stopping: Stopping): Solved => {
    view(x).set(start);
    view(r).set(b);
    const whole = Math.sqrt(exports.dot(r, r, n));
    if (whole === 0) {
      start.fill(0);
      return { iterations: 0, residual: 0 };
    }
    exports.multiply(x, q);
    exports.addScaled(r, q, -1, n);
    let residual = Math.sqrt(exports.dot(r, r, n)) / whole;
    exports.precondition(r, z);
    view(p).set(view(z));
    let rz = exports.dot(r, z, n);
    let iterations = 0;
    while (residual > stopping.tolerance && iterations < stopping.mostIterations) {
      exports.multiply(p, q);
      const alpha = rz / exports.dot(p, q, n);
      if (!Number.isFinite(alpha)) break;
      residual = Math.sqrt(exports.step(x, p, r, q, alpha, n)) / whole;
      iterations++;
      if (residual <= stopping.tolerance || stopping.onIteration?.(iterations, residual) === false) break;
      exports.precondition(r, z);
      const next = exports.dot(r, z, n);
      exports.turn(p, z, next / rz, n);
      rz = next;
    }
    start.set(view(x));
    return { iterations, residual };
  };
  return {
    multiply: through(exports.multiply),
    precondition: through(exports.precondition),
    factor,
    operator,
    compiled: true,
    solve,
  };
}
