/**
 * A program of its own: most memory (MB) that equations and solver hold while breeding values of a simulated stock are solved, beside the stock and its
 * records. Usage: node --expose-gc --import tsx bench/_memory.ts QUEENS
 */
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
import { solveEquations } from '#domain/worth/solve-equations.ts';
import { oneTrait, simulatePedigree, simulateRecords } from './_stock.ts';

const held = (): number => {
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
};

const pedigree = simulatePedigree({ queens: Number(process.argv[2]), mating: 'shared' });
const records = simulateRecords(pedigree, oneTrait);
const descent = descentOf(pedigree);
globalThis.gc?.();
const before = held();
let most = 0;
const look = () => {
  most = Math.max(most, held() - before);
  return undefined;
};
const equations = makeEquations(descent, records, oneTrait);
look();
const { effects } = solveEquations(equations, { progress: look });
look();
console.log((most / 1e6).toFixed(0), effects.length);
