/** Whether records can carry variance components at all: too few, too little structure, or an estimate at the edge of what is possible. */
import { eigenOf } from '#numeric/dense/small-matrix.ts';
import type { Pedigree } from '../../pedigree/laid-pedigree.ts';
import { FROM_QUEEN, NONE, sourcesOf } from '../../pedigree/stock.ts';
import type { Model } from '../model.ts';
import type { Records } from '../records.ts';
import { traitsAllAlike } from '../traits-all-alike.ts';

/** `decides`: the estimate should not be used. `text` is an English sentence with its advice. */
export type VarianceWarning = { code: string; text: string; decides: boolean };

/** Fewer records than these cannot carry worker and queen effects apart (simulation: at 1000 the standard error of a variance is a third of it). */
const LEAST_RECORDS = 300;
/** Drone mothers behind the recorded queens or their daughters. */
const LEAST_DRONE_MOTHERS = 20;

type Given = {
  pedigree: Pedigree;
  records: Records;
  maximum: { model: Model; converged: boolean };
  errors: { G: (number | null)[][]; R: (number | null)[][] };
};

/**
 * Everything that speaks against estimated variances; none when nothing does. Errors are standard errors in the places of G and R (squares of the
 * traits' units), null where there is none to tell, which counts as larger than the variance. It decides against an estimate: a trait without differences, fewer than 300 records or 20
 * drone mothers, a correlation of worker and queen effect beyond ±0.98, a genetic variance of 0, both variances of a trait below their standard errors, a
 * search that did not end by itself; it only warns from ±0.9 and of one variance. The limits are judgement, from simulation (16 replicates of 1000
 * colonies: standard errors of a third of the variance).
 * @example const { pedigree, records, model } = workedPrepared();
 * const errors = { G: [[9, 9], [9, 9]], R: [[9]] };
 * warningsOf({ pedigree, records, maximum: { model, converged: true }, errors })[0] // { code: 'too-few-records', decides: true }
 */
export function warningsOf(given: Given): VarianceWarning[] {
  return [...tooLittle(given), ...atTheEdge(given.maximum.model), ...uncertain(given), ...notConverged(given)];
}

function tooLittle({ pedigree, records, maximum }: Given): VarianceWarning[] {
  const out: VarianceWarning[] = [];
  for (const trait of traitsAllAlike(records, maximum.model.traits)) {
    const text = `${trait}: all colonies of a yard-year have the same value; there is no variance to estimate and its likelihood has no maximum; leave the trait out`;
    out.push({ code: 'no-differences', text, decides: true });
  }
  if (records.count < LEAST_RECORDS) {
    const text = `${records.count} record${records.count === 1 ? ' is' : 's are'} too few to estimate variances (at least ${LEAST_RECORDS}); use published ones`;
    out.push({ code: 'too-few-records', text, decides: true });
  }
  const mothers = droneMothers(pedigree, records);
  if (mothers < LEAST_DRONE_MOTHERS) {
    const text = `known drone mothers behind the recorded colonies: ${mothers}; at least ${LEAST_DRONE_MOTHERS} are needed to tell worker from queen effects; use published variances`;
    out.push({ code: 'too-few-drone-mothers', text, decides: true });
  }
  return out;
}

/** Different drone mothers named in the pools that recorded queens carry or descend from. */
function droneMothers(pedigree: Pedigree, records: Records): number {
  const { columns } = pedigree.stock;
  const mothers = new Set<number>();
  const addPool = (pool: number) => {
    if (pool === NONE) return;
    const [from, to] = sourcesOf(columns, pool);
    for (let s = from; s < to; s++) {
      const ref = columns.sourceRef[s] as number;
      if (columns.sourceKind[s] === FROM_QUEEN) mothers.add(ref);
      else if (ref !== NONE) addPool(ref);
    }
  };
  for (const queen of records.queen) {
    addPool(columns.carries[queen] as number);
    const dam = columns.dam[queen] as number;
    addPool(
      columns.fromPool[queen] === NONE && dam !== NONE
        ? (columns.carries[dam] as number)
        : (columns.fromPool[queen] as number),
    );
  }
  return mothers.size;
}

function atTheEdge(model: Model): VarianceWarning[] {
  const t = model.traits.length;
  const q = 2 * t;
  const out: VarianceWarning[] = [];
  for (const [s, trait] of model.traits.entries()) {
    const g = (i: number, j: number) => model.G[(2 * s + i) * q + 2 * s + j] as number;
    const r = g(0, 1) / Math.sqrt(g(0, 0) * g(1, 1));
    if (Math.abs(r) > 0.9) {
      const text = `${trait}: the correlation of worker and queen effect came out at ${r.toFixed(2)}; records that cannot tell the two apart do this`;
      out.push({ code: 'correlation-at-edge', text, decides: Math.abs(r) > 0.98 });
    }
  }
  const { values } = eigenOf(model.G, q);
  if ((values[0] as number) < 1e-5 * (values[q - 1] as number)) {
    const text = 'a genetic variance (or a combination of them) came out at 0; the records say nothing of it';
    out.push({ code: 'variance-at-zero', text, decides: true });
  }
  return out;
}

function uncertain({ maximum, errors }: Given): VarianceWarning[] {
  const { traits, G } = maximum.model;
  const q = 2 * traits.length;
  return traits.flatMap((trait, s): VarianceWarning[] => {
    const worse = [2 * s, 2 * s + 1].filter((e) => {
      const error = errors.G[e]?.[e] ?? Number.POSITIVE_INFINITY;
      return error > (G[e * q + e] as number);
    });
    if (worse.length === 0) return [];
    const which = worse.map((e) => (e % 2 === 0 ? 'worker' : 'queen')).join(' and ');
    const text = `${trait}: the standard error of the ${which} variance is larger than the variance itself`;
    return [{ code: 'standard-error-large', text, decides: worse.length === 2 }];
  });
}

const notConverged = ({ maximum }: Given): VarianceWarning[] =>
  maximum.converged
    ? []
    : [{ code: 'not-converged', text: 'the likelihood was still rising when the search ended', decides: true }];
