/** Laboratory arithmetic against published data, handbook tables and worked examples; the source stands beside each check. */
import { describe, expect, test } from 'vitest';
import { backOutCount } from '#domain/laboratory/back-out-count.ts';
import { columnError, columnLength, columnVolume, microlitresPerMillimetre } from '#domain/laboratory/bore.ts';
import { countedVolume } from '#domain/laboratory/chamber.ts';
import { dilutionFactor } from '#domain/laboratory/dilution.ts';
import { beesByWeight, miteGrowth, miteWash } from '#domain/laboratory/mite-wash.ts';
import { molarMass } from '#domain/laboratory/molar-mass.ts';
import { makeSaline, recipeNamed, recipes } from '#domain/laboratory/saline.ts';
import { spermCount } from '#domain/laboratory/sperm-count.ts';
import { sphereVolume, storedSpermBand } from '#domain/laboratory/spermatheca.ts';
import { checkTwoChambers, duplicateCv } from '#domain/laboratory/two-chambers.ts';
import { viability } from '#domain/laboratory/viability.ts';
import { microlitres, millimetres } from '#units/volume.ts';

/** Open data of Straub et al. 2016 (Proc. R. Soc. B 283:20160506, Dryad 10.5061/dryad.bs515): 500 µl suspensions. */
const straub = { countedVolume: 0.04, suspension: 500, dilution: 1 };

describe('haemocytometer', () => {
  test('improved Neubauer: group 0.004 µl, large square 0.1 µl, small square 0.00025 µl, ruled area 0.9 µl (maker’s geometry)', () => {
    expect(countedVolume('group', 1)).toBe(0.004);
    expect(countedVolume('group', 10)).toBe(0.04);
    expect(countedVolume('large-square', 1)).toBe(0.1);
    expect(countedVolume('group', 25)).toBe(countedVolume('large-square', 1));
    expect(countedVolume('small-square', 1)).toBe(0.00025);
    expect(countedVolume('ruled-area', 1)).toBe(0.9);
  });

  test.each([
    [172, 2_150_000],
    [183, 2_287_500],
    [7, 87_500],
    [1, 12_500],
  ])('Straub et al. 2016: %i counted are %i sperm', (counted, total) => {
    expect(spermCount({ ...straub, counted }).total).toBe(total);
    expect(backOutCount(total, straub)).toEqual({ count: counted, whole: true, nearest: counted });
  });

  test('172 counted: CV 7.62 %; normal 1,828,691-2,471,309; exact Poisson (Garwood 1936) 1,840,690-2,496,413', () => {
    const count = spermCount({ ...straub, counted: 172 });
    expect(count.cv).toBeCloseTo(0.0762, 4);
    expect(Math.round(count.low ?? 0)).toBe(1_828_691);
    expect(Math.round(count.high ?? 0)).toBe(2_471_309);
    expect(Math.round(count.lowExact)).toBe(1_840_690);
    expect(Math.round(count.highExact)).toBe(2_496_413);
  });

  test('none counted: no CV, and up to 3.689 would still be no surprise (Poisson table, 95 % two-sided)', () => {
    const count = spermCount({ ...straub, counted: 0 });
    expect(count).toMatchObject({ total: 0, cv: null, low: null, high: null, lowExact: 0 });
    expect(count.highExact / 12_500).toBeCloseTo(3.689, 3);
  });

  test('totals that are no whole number of sperm at that volume are said to be so, never rounded', () => {
    expect(backOutCount(6_340_000, straub)).toMatchObject({ count: 507.2, whole: false });
    expect(backOutCount(6_340_000, { ...straub, countedVolume: 0.025 })).toMatchObject({ count: 317, whole: true });
    expect(backOutCount(2_881_500, straub)).toMatchObject({ whole: false, nearest: 231 });
    expect(backOutCount(2_881_500, { ...straub, countedVolume: 0.025 }).whole).toBe(false);
  });

  test('100 in five groups of 1 ml are 5.00 million, thinned once more by half 10.00 million, CV 10 % (worked example)', () => {
    const counted = { counted: 100, countedVolume: countedVolume('group', 5), suspension: 1000 };
    expect(spermCount({ ...counted, dilution: 1 }).total).toBeCloseTo(5e6, 3);
    expect(spermCount({ ...counted, dilution: dilutionFactor([{ transferred: 50, diluent: 50 }]) }).total).toBeCloseTo(
      10e6,
      3,
    );
    expect(spermCount({ ...counted, dilution: 1 }).cv).toBeCloseTo(0.1, 12);
  });

  test('a chain of dilutions multiplies: 1:10 and 1:2 are 20-fold; no step is 1; nothing transferred is misuse', () => {
    const chain = [
      { transferred: 10, diluent: 90 },
      { transferred: 50, diluent: 50 },
    ];
    expect(dilutionFactor(chain)).toBe(20);
    expect(dilutionFactor([])).toBe(1);
    expect(() => dilutionFactor([{ transferred: 0, diluent: 5 }])).toThrow(RangeError);
    expect(() => spermCount({ ...straub, counted: 1, suspension: 0 })).toThrow(RangeError);
  });

  test('two chambers agree when |a − b| ≤ 2√(a + b)', () => {
    expect(checkTwoChambers(172, 150)).toEqual({ difference: 22, limit: 2 * Math.sqrt(322), agree: true });
    expect(checkTwoChambers(172, 130).agree).toBe(false);
    expect(checkTwoChambers(0, 0).agree).toBe(true);
    expect(checkTwoChambers(50, 70).agree).toBe(checkTwoChambers(70, 50).agree);
  });

  test('error from duplicates is √(Σd²/2n) ÷ mean (Dahlberg 1940 form; from memory), by hand: d 10, 5 and mean 98.75', () => {
    expect(
      duplicateCv([
        [100, 110],
        [95, 90],
      ]),
    ).toBeCloseTo(Math.sqrt(125 / 4) / 98.75, 12);
    expect(duplicateCv([])).toBeNull();
    expect(duplicateCv([[0, 0]])).toBeNull();
  });
});

describe('viability stain', () => {
  test.each([
    [84, 100, 75.6, 89.9],
    [168, 200, 78.3, 88.4],
    [420, 500, 80.5, 87.0],
    [50, 100, 40.4, 59.6],
    [95, 100, 88.8, 97.85], // 97.846: a table that prints 97.9 was rounded twice
  ])('%i of %i alive: Wilson %d-%d %% (Wilson 1927; table recomputed from the formula)', (live, all, low, high) => {
    const stained = viability(live, all - live);
    expect(stained.viability).toBeCloseTo(live / all, 12);
    expect(100 * (stained.low ?? 0)).toBeCloseTo(low, 1);
    expect(100 * (stained.high ?? 0)).toBeCloseTo(high, 1);
  });

  test('154 of 177: 87.0056 %, Wilson 81.26-91.18 % (open data of Aurell et al. 2025, 10.1093/jee/toaf126)', () => {
    const share = viability(154, 23);
    expect(100 * (share.viability ?? 0)).toBeCloseTo(87.0056, 4);
    expect(100 * (share.low ?? 0)).toBeCloseTo(81.26, 2);
    expect(100 * (share.high ?? 0)).toBeCloseTo(91.18, 2);
  });

  test('2,150,000 sperm at 96.72638146 % alive are 2,079,617 (Straub et al. 2016, first row)', () => {
    expect(Math.round(2_150_000 * 0.9672638146)).toBe(2_079_617);
    expect(viability(0, 0)).toEqual({ live: 0, dead: 0, viability: null, low: null, high: null });
  });
});

describe('column in a bore: volume ÷ (π d²/4), geometry', () => {
  test.each([
    [0.2, 0.03142, 254.65],
    [0.3, 0.07069, 113.18],
    [0.4, 0.12566, 63.66],
    [0.5, 0.19635, 40.74],
    [0.6, 0.28274, 28.29],
    [0.7, 0.38485, 20.79],
    [0.8, 0.50265, 15.92],
    [0.9, 0.63617, 12.58],
    [1.0, 0.7854, 10.19],
    [1.1284, 1.0, 8.0],
    [1.2, 1.13097, 7.07],
  ])('bore %d mm: %d µl a mm, 8 µl are %d mm', (bore, perMillimetre, length) => {
    expect(microlitresPerMillimetre(millimetres(bore))).toBeCloseTo(perMillimetre, 4);
    expect(columnLength(millimetres(bore), microlitres(8))).toBeCloseTo(length, 2);
    expect(columnVolume(millimetres(bore), columnLength(millimetres(bore), microlitres(8)))).toBeCloseTo(8, 12);
  });

  test('a bore wrong by 1 % makes the volume wrong by 2 %', () => {
    expect(columnError({ bore: 0.01, length: 0 })).toBeCloseTo(0.02, 12);
    expect(
      columnVolume(millimetres(0.505), millimetres(40)) / columnVolume(millimetres(0.5), millimetres(40)) - 1,
    ).toBeCloseTo(0.02, 3);
    expect(() => microlitresPerMillimetre(millimetres(0))).toThrow(RangeError);
  });
});

describe('saline', () => {
  test('molar masses of the textbooks come out of the sum formulas', () => {
    const table = {
      NaCl: 58.44,
      C6H12O6: 180.16,
      C6H14N2O2: 146.19,
      C6H14N4O2: 174.2,
      C4H11NO3: 121.14,
      C4H12NO3Cl: 157.6,
    };
    for (const [formula, mass] of Object.entries(table))
      expect(Math.abs(molarMass(formula) - mass)).toBeLessThan(0.011);
    expect(() => molarMass('Xx2')).toThrow(RangeError);
    expect(() => molarMass('Na(Cl)')).toThrow(RangeError);
  });

  test('Tris-buffered, 100 ml: masses of the source’s g/100 mL column, millimolar computed', () => {
    const recipe = recipeNamed('tris-buffered');
    if (recipe === null) throw new Error('recipe gone');
    const made = makeSaline(recipe, 100);
    const grams = made.components.map((one) => Number(one.grams.toFixed(4)));
    expect(grams).toEqual([1.1, 0.1, 0.01, 0.01, 0.329, 0.329]);
    const millimolar = made.components.map((one) => Number(one.millimolar.toFixed(2)));
    expect(millimolar[0]).toBeCloseTo(188.2, 1);
    expect(millimolar.slice(1)).toEqual([5.55, 0.68, 0.57, 27.16, 20.88]);
    expect(made.osmolarity).toBeGreaterThan(440);
    expect(made.osmolarity).toBeLessThan(460);
  });

  test('the printed slip is not reproduced: 185 mM would need a molar mass of 59.4 for sodium chloride', () => {
    const recipe = recipeNamed('tris-buffered');
    const [salt] = recipe === null ? [] : makeSaline(recipe, 1000).components;
    expect(Math.round(salt?.millimolar ?? 0)).toBe(188);
    expect(11 / 0.185).toBeCloseTo(59.46, 2);
  });

  test('simple saline 12.5 g/L is 213.9 mM; physiological 9 g/L 154 mM', () => {
    const salt = (name: string) => {
      const recipe = recipeNamed(name);
      return recipe === null ? 0 : (makeSaline(recipe, 1000).components[0]?.millimolar ?? 0);
    };
    expect(salt('simple')).toBeCloseTo(213.9, 1);
    expect(salt('physiological')).toBeCloseTo(154, 1);
  });

  test('no recipe carries an antibiotic, every one says they are only recorded', () => {
    for (const recipe of recipes) {
      expect(JSON.stringify(recipe)).not.toMatch(/gentamicin|streptomycin|penicillin|sulph|tetracyclin/i);
      expect(makeSaline(recipe, 50).cautions).toContain('antibiotics-recorded-never-advised');
    }
    expect(recipeNamed('nobody’s')).toBeNull();
  });
});

describe('spermatheca', () => {
  test('sphere π d³/6: 1.0 mm is 0.524 µl, 1.2 mm 0.905 µl (geometry); 5 million in it are 5.5 million a µl', () => {
    expect(sphereVolume(millimetres(1))).toBeCloseTo(0.524, 3);
    expect(sphereVolume(millimetres(1.2))).toBeCloseTo(0.905, 3);
    expect(5 / sphereVolume(millimetres(1.2))).toBeCloseTo(5.5, 1);
  });
  test('under 3 million is the supersedure threshold, 4 the target (NSW DPI DAI/112, 2002)', () => {
    expect([2.9, 3, 3.9, 4, 5.5].map(storedSpermBand)).toEqual([
      'supersedure-risk',
      'below-target',
      'below-target',
      'fully-mated',
      'fully-mated',
    ]);
  });
});

describe('mite wash', () => {
  test('43 mites of 310 bees are 13.87 per 100, not the 14.3 of a handbook’s own example (43/300; Dietemann et al. 2013)', () => {
    expect(miteWash(43, 310).perHundred).toBeCloseTo(13.87, 2);
    expect(miteWash(43, 310).perHundred).not.toBeCloseTo(14.33, 1);
  });
  test('17 mites of 317.4 bees by weight are 5.356 per 100; pooled 812/54,583 is 1.488 % (open data, Aurell et al.)', () => {
    expect(miteWash(17, beesByWeight(31.74, 0.1)).perHundred).toBeCloseTo(5.356, 3);
    expect(miteWash(812, 54_583).perHundred).toBeCloseTo(1.488, 3);
    expect(miteWash(827, 49_993).perHundred).toBeCloseTo(1.654, 3);
  });
  test('none found still leaves 3.689 mites open; growth needs mites in both washes', () => {
    expect(miteWash(0, 300)).toMatchObject({ perHundred: 0, low: 0, high: expect.closeTo(1.2296, 3) });
    expect(miteGrowth(1, 2, 30)).toBeCloseTo(Math.LN2 / 30, 12);
    expect(miteGrowth(0, 2, 30)).toBeNull();
    expect(() => miteWash(3, 0)).toThrow(RangeError);
  });
});
