import { describe, expect, it } from 'vitest';
import { figureKinds, figureOf, figureRefusals, profileRefusals, withFigures } from './profile-figures.ts';
import { shippedProfiles } from './profiles.ts';
import { standardText } from './standard-text.ts';

const own = (key: string, value: number, low = value, high = value) => ({ key, value, low, high, source: 'mine' });
const codes = (problems: readonly { code: string }[]) => problems.map(({ code }) => code);

describe('the figures of a profile', () => {
  it('are all there, within their bounds, in every shipped profile', () => {
    for (const profile of shippedProfiles) {
      for (const { key, least, most } of figureKinds) {
        const { value, low, high } = figureOf(profile, key);
        expect(value, `${profile.name} ${key}`).toBeGreaterThanOrEqual(least);
        expect(value, `${profile.name} ${key}`).toBeLessThanOrEqual(most);
        expect(codes(figureRefusals(own(key, value, low, high), 'figures.0')), `${profile.name} ${key}`).toEqual([]);
      }
      expect(profileRefusals(profile)).toEqual([]);
    }
  });

  it('are replaced by one’s own, and no other is touched', () => {
    const mine = withFigures(standardText, 'mine', [
      own('survivals.accepted', 0.7, 0.6, 0.8),
      own('usual.queenAge', 7),
    ]);
    expect(mine.name).toBe('mine');
    expect(mine.survivals.accepted).toEqual({ value: 0.7, low: 0.6, high: 0.8, basis: 'own records', source: 'mine' });
    expect(mine.usual.queenAge).toBe(7);
    expect(mine.survivals.emergedQueens).toBe(standardText.survivals.emergedQueens);
    expect(mine.timings).toBe(standardText.timings);
    expect(standardText.usual.queenAge).toBe(8);
  });

  it('are refused outside of their bounds, with a range beside them, as half days, under unknown names', () => {
    const check = (figure: ReturnType<typeof own>, code: string) =>
      expect(codes(figureRefusals(figure, 'figures.0'))).toEqual([code]);
    check(own('timings.droneEggToEmergence', 20), 'figure-out-of-bounds');
    check(own('survivals.accepted', 1.2), 'figure-out-of-bounds');
    check(own('survivals.accepted', Number.NaN), 'figure-out-of-bounds');
    check(own('survivals.accepted', 0.5, 0.6, 0.8), 'figure-range-backwards');
    check(own('timings.graftToEmergence', 11.5), 'figure-not-whole');
    check(own('timings.__proto__', 11), 'unknown-figure');
  });

  it('must fit together: a window that ends before it begins, a usual age that cannot be used', () => {
    const backwards = withFigures(standardText, 'x', [own('queens.hard.to', 7)]);
    expect(codes(profileRefusals(backwards))).toEqual(['window-backwards']);
    const outside = withFigures(standardText, 'x', [own('usual.queenAge', 3)]);
    expect(codes(profileRefusals(outside))).toEqual(['usual-outside-window']);
  });
});
