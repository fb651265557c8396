/**
 * Stored semen: readings published by Collins 2000 (J. Econ. Entomol. 93(3)): 80 % alive to week 6, 58 % from week 9 to 39, 18.9 %
 * in week 52 at 25 °C; Collins 2005 (J. Apic. Res. 44:141); Rajamohan et al. 2020 (Cryobiology).
 */
import { describe, expect, test } from 'vitest';
import { type Kept, storagePicture } from '#domain/semen/storage.ts';
import { storageEvidence } from '#domain/semen/storage-evidence.ts';

const kept = (weeks: number, told: Partial<Kept> = {}): Kept => ({
  ageDays: weeks * 7,
  celsius: 25,
  diluted: true,
  frozen: false,
  ...told,
});

const alive = (of: Kept, source: string) => {
  const step = storagePicture(of).viability.find((reading) => reading.evidence.key === source)?.step;
  return step === undefined || step === null ? null : [step.low, step.high];
};

describe('viability of diluted semen', () => {
  test.each([
    [0, 0.8, 0.8],
    [6, 0.8, 0.8],
    [7.5, 0.58, 0.8],
    [9, 0.58, 0.58],
    [39, 0.58, 0.58],
    [45, 0.189, 0.58],
    [52, 0.189, 0.189],
  ])('week %s: %s to %s, stepwise and never one exponential', (weeks, low, high) => {
    expect(alive(kept(weeks), 'collins-2000-warm')).toEqual([low, high]);
  });

  test('the fall of week 52 was seen at 25 °C only; at 12 °C nothing is claimed', () => {
    expect(alive(kept(52, { celsius: 12 }), 'collins-2000-cool')).toBeNull();
    expect(alive(kept(52, { celsius: 12 }), 'collins-2000-warm')).toBeNull();
  });

  test('one exponential through 80 and 58 % would be wrong by week 39: half-life 6.5 weeks leaves 2 %', () => {
    const halfLife = (3 * Math.LN2) / Math.log(0.8 / 0.58);
    expect(halfLife).toBeCloseTo(6.5, 1);
    expect(0.58 * 0.5 ** (30 / halfLife)).toBeLessThan(0.03);
    expect(alive(kept(39), 'collins-2000-warm')).toEqual([0.58, 0.58]);
  });
});

describe('two kinds of evidence', () => {
  test('at 5 weeks semen is 80 % alive and yet queens store fewer sperm of it', () => {
    const picture = storagePicture(kept(5, { celsius: 22 }));
    expect(picture.viability.find((reading) => reading.evidence.key === 'collins-2000-warm')?.step?.low).toBe(0.8);
    expect(picture.function.find((reading) => reading.evidence.key === 'collins-2005')?.step?.finding).toBe(
      'fewer-sperm-stored',
    );
    expect(picture.cautions).toContain('viable-is-not-fertile');
  });

  test('undiluted, 14 °C: only its own sources speak, none between the days they measured', () => {
    const picture = storagePicture(kept(60 / 7, { celsius: 14, diluted: false }));
    expect(picture.viability.map((reading) => [reading.evidence.key, reading.step?.low])).toEqual([
      ['rajamohan-2020-undiluted', 0.608],
    ]);
    const earlier = storagePicture(kept(4, { celsius: 14, diluted: false }));
    expect(earlier.viability[0]).toMatchObject({ step: null, reachesDay: 60 });
  });

  test('older than any evidence is warned, not refused; cold storage is cautioned', () => {
    expect(storagePicture(kept(60)).problems).toMatchObject([
      { code: 'semen-older-than-its-evidence', weight: 'warn' },
    ]);
    expect(storagePicture(kept(52)).problems).toEqual([]);
    expect(storagePicture(kept(1, { celsius: 4 })).cautions[0]).toBe('never-fridge-cold');
  });

  test('every source has a name, ordered steps and fractions', () => {
    for (const { source, steps } of storageEvidence) {
      expect(source).toMatch(/\d{4}/);
      for (const [i, { fromDay, toDay, low, high }] of steps.entries()) {
        expect(toDay).toBeGreaterThanOrEqual(fromDay);
        expect(fromDay).toBeGreaterThan(steps[i - 1]?.toDay ?? -1);
        expect((low ?? 0) >= 0 && (low ?? 0) <= (high ?? 0) && (high ?? 0) <= 1).toBe(true);
      }
    }
  });
});
