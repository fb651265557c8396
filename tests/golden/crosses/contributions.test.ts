import { describe, expect, test } from 'vitest';
import { type Candidate, contributions } from '#domain/crosses/contributions.ts';
import { readPedigree } from '#domain/pedigree/files/read-pedigree.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const queens =
  'queen,dam,mated_to,drones,semen\nA,,C,10,\nB,,C,1,\nC,,,,\nQ1,A,,,P\nQ2,A,,,P\nQ3,B,open,12,\nQ4,B,open,12,\n';
const semen = 'batch,source,share,drones\nP,Q3,0.5,5\nP,C,0.5,5\n';
const { pedigree } = readPedigree({ name: 'q', bytes: bytes(queens) }, { name: 's', bytes: bytes(semen) });
if (pedigree === null) throw new Error('pedigree');

// What each adds to the merit of the next cohort (half her worth as mother, or as drone mother) in the small evaluation of tests/golden/worth.
const asDam = { Q1: 0.57311, Q2: 0.47423, Q3: -0.10118, Q4: -0.34924 };
const asDroneMother = { Q1: 0.96437, Q2: 0.76661, Q3: -0.23683, Q4: -0.62867, C: 0.47411 };
const candidates: Candidate[] = (['Q1', 'Q2', 'Q3', 'Q4', 'C'] as const).map((queen) => ({
  queen,
  ...(queen === 'C' ? {} : { dam: { merit: asDam[queen], most: 1 } }),
  droneMother: { merit: asDroneMother[queen], most: 1 },
}));

// Source: two independent solvers (a quadratic programme in R with quadprog, and bisection on its multiplier in numpy) on the dense relationship matrix;
// shares are not unique there, merit and relationship are. Given to seven digits; merits above to five.
describe('contributions of the small evaluation', () => {
  const at = (limit: number) => {
    const found = contributions(pedigree, candidates, limit);
    if (!('contributions' in found)) throw new Error(JSON.stringify(found));
    return found.contributions;
  };
  test('the least group relationship', () => {
    expect(contributions(pedigree, candidates, 0.3)).toEqual({ least: expect.closeTo(0.3031734, 7) });
    const found = at(0.3031735);
    const shares = Object.fromEntries(found.droneMothers.map(({ queen, share }) => [queen, share]));
    expect((shares.Q1 ?? 0) + (shares.Q2 ?? 0)).toBeCloseTo(0.7752, 2);
    expect(found.dams.map((one) => one.queen)).toEqual(['Q3', 'Q4']);
  });
  test.each([
    [0.34, 0.8203085],
    [0.4, 0.9809799],
  ])('limit %d', (limit, merit) => {
    const found = at(limit);
    expect(found.groupRelationship).toBeCloseTo(limit, 7);
    expect(found.merit).toBeCloseTo(merit, 4);
  });
  test('no limit: the best dam and the best drone mother alone', () => {
    expect(at(9)).toMatchObject({ dams: [{ queen: 'Q1', share: 1 }], droneMothers: [{ queen: 'Q1', share: 1 }] });
  });
  test('nobody to raise from', () => {
    expect(
      contributions(
        pedigree,
        candidates.filter((one) => one.queen === 'C'),
        1,
      ),
    ).toEqual({ missing: 'dams' });
  });
});
