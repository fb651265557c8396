import { expect, test } from 'vitest';
import { relationship } from '#domain/pedigree/kinship.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';

// By hand: a batch of D (share .5, 10 drones), E (.3, 6) and C (.2, 4); relationships D–E .25, E–C .5, D–C 0, nobody inbred.
// A_SS = ¼ Σ c_j c_l A_jl + Σ c_j² ¼/n_j; squares .25 + .09 + .04, cross terms 2(.5·.3·.25 + .3·.2·.5): ¼·.515 = .12875;
// sampling .25(.25/10 + .09/6 + .04/4) = .0125. Together .14125.
const laid = layPedigreeOf({
  queens: [
    { id: 'A' },
    { id: 'B' },
    { id: 'C' },
    // half-sisters of one dam and unrelated drones without end: .25
    { id: 'D', dam: 'A', fromPool: 'strangers 1' },
    // daughter of A and of very many drones of C: .5 with C
    { id: 'E', dam: 'A', fromPool: 'of C' },
    { id: 'U' },
    { id: 'V', dam: 'U', fromPool: 'batch' },
    { id: 'W', dam: 'U', fromPool: 'batch' },
    { id: 'X', dam: 'B', fromPool: 'batch' },
  ],
  pools: [
    { id: 'strangers 1', sources: [{ open: true, share: 1, drones: 1e9 }] },
    { id: 'of C', sources: [{ queen: 'C', share: 1, drones: 1e9 }] },
    {
      id: 'batch',
      sources: [
        { queen: 'D', share: 0.5, drones: 10 },
        { queen: 'E', share: 0.3, drones: 6 },
        { queen: 'C', share: 0.2, drones: 4 },
      ],
    },
  ],
});

test('two queens of one batch share what its parts share', () => {
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
  const { pedigree } = laid;
  expect(relationship(pedigree, 'D', 'E')).toBeCloseTo(0.25, 8);
  expect(relationship(pedigree, 'E', 'C')).toBeCloseTo(0.5, 8);
  // daughters of one unrelated dam: ¼ + A_SS; of two unrelated dams: A_SS
  expect(relationship(pedigree, 'V', 'W')).toBeCloseTo(0.39125, 8);
  expect(relationship(pedigree, 'V', 'X')).toBeCloseTo(0.14125, 8);
  // a daughter and a drone mother: ½ (.5·1 + .3·.25 + .2·0)
  expect(relationship(pedigree, 'V', 'D')).toBeCloseTo(0.2875, 8);
});
