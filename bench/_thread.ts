/** One thread's share of some fixed work: draws of the brood outlook and sampled derivatives, each named by its number. */
import { parentPort, workerData } from 'node:worker_threads';
import { broodOutlook } from '#domain/brood/brood.ts';
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
import { drawValues, projectByIteration } from '#domain/worth/variances/sampled.ts';
import { makeSolver } from '#numeric/mixed/solver.ts';
import { oneTrait, simulatePedigree, simulateRecords } from './_stock.ts';

const { k, count } = workerData as { k: number; count: number };
const pedigree = simulatePedigree({ queens: 3000, mating: 'own' });
const equations = makeEquations(descentOf(pedigree), simulateRecords(pedigree, oneTrait), oneTrait);
const project = projectByIteration(equations, makeSolver(equations.system), 1e-9);
const answers: string[] = [];
for (let part = 0; part < 8; part++) {
  if (part % count !== k) continue;
  const { nodes } = project(drawValues(equations, 1, part));
  const sources = [{ queen: 'Q2500', share: 1, drones: 8 }];
  const brood = broodOutlook(pedigree, [{ queen: `Q${2900 + part}`, sources }], { draws: 500 }).crosses?.[0];
  answers.push(`${part} ${[...nodes.slice(0, 50)].join()} ${brood?.expectedViability}`);
}
parentPort?.postMessage(answers);
