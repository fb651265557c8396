/**
 * The outside programs our times are compared with: general solvers, compiled or run from bench/references. `--references` installs what they need from
 * Debian; without them a row says so.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { byProcessor } from './_measure.ts';

const folder = '.out/bench';
const wanted = process.argv.includes('--references');
mkdirSync(folder, { recursive: true });

const run = (command: string, args: readonly string[], env: Record<string, string> = {}) =>
  spawnSync(command, args, { encoding: 'utf8', env: { ...process.env, ...env }, maxBuffer: 1e9 });

let installed = false;
function install(): void {
  if (!wanted || installed || process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return;
  installed = true;
  console.error('installing the references from Debian …');
  const packages = [
    'g++',
    'libeigen3-dev',
    'libsuitesparse-dev',
    'libopenblas-dev',
    'python3-scipy',
    'r-base-core',
    'r-cran-lme4',
  ];
  run('apt-get', ['update', '-qq']);
  const { status, stderr } = run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], {
    DEBIAN_FRONTEND: 'noninteractive',
  });
  if (status !== 0) console.error(stderr);
}

/** Compiles a program once; null when there is no compiler or library for it. */
function compiled(source: string, command: string, args: readonly string[]): string | null {
  const target = join(folder, source.replace(/\..*$/, ''));
  const build = () =>
    run(command, ['-O3', '-march=native', join('bench/references', source), '-o', target, ...args]).status === 0;
  if (existsSync(target) || build()) return target;
  install();
  return build() ? target : null;
}

/** Lines of numbers a program printed, or null when it did not run. */
function numbers(command: string, args: readonly string[], env: Record<string, string> = {}): number[][] | null {
  const { status, stdout } = run(command, args, env);
  if (status !== 0) return null;
  return stdout
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/).map(Number));
}

/** Files the programs read. */
export function writeBinary(name: string, pieces: readonly (Int32Array | Float64Array)[]): string {
  const path = join(folder, name);
  writeFileSync(path, '');
  for (const piece of pieces)
    writeFileSync(path, new Uint8Array(piece.buffer, piece.byteOffset, piece.byteLength), { flag: 'a' });
  return path;
}
export function writeText(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const one = { OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1', ...(byProcessor && { BENCH_CPU: '1' }) };

/** Conjugate gradients by Eigen: ms and iterations of each repeat. */
export function eigenGradients(file: string, repeats: number): number[][] | null {
  let program = compiled('cg.cpp', 'g++', ['-I/usr/include/eigen3']);
  if (program === null) return null;
  program = `./${program}`;
  return numbers(program, [file, '1e-10', String(repeats)], one);
}

/** Supernodal Cholesky by CHOLMOD: ms of analysis and of factorisation. */
export function cholmod(file: string, repeats: number): number[][] | null {
  const program = compiled('cholesky.c', 'gcc', ['-I/usr/include/suitesparse', '-lcholmod', '-lm']);
  return program === null ? null : numbers(`./${program}`, [file, String(repeats)], one);
}

/** Triplets to compressed columns by scipy: ms and entries. */
export function scipyColumns(file: string, repeats: number): number[][] | null {
  const args = ['bench/references/columns.py', file, String(repeats)];
  const found = numbers('python3', args, one);
  if (found !== null || !wanted) return found;
  install();
  return numbers('python3', args, one);
}

/** Variances of the crossed model by lme4: ms. */
export function lme4(file: string): number | null {
  const args = ['bench/references/variances.R', file];
  let found = existsSync('/usr/bin/Rscript') ? numbers('Rscript', args, one) : null;
  if (found === null && wanted) {
    install();
    found = numbers('Rscript', args, one);
  }
  return found?.[0]?.[0] ?? null;
}
