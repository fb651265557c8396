import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bouncing, dice, longPresses, meanings, press, resting } from '../../../tests/support/foot.ts';
import { nextPedal, PEDAL, type PedalEvent, restingPedal } from './pedal.ts';

describe('one pedal', () => {
  test.each([
    [59, []],
    [60, ['accept']],
    [600, ['accept']],
    [1200, ['accept']],
    [1201, ['rising']],
    [1499, ['rising']],
    [1500, ['offer']],
  ])('let go after %i ms (nobody looked in between) means %j', (length, meant) => {
    expect(meanings(press(0, length))).toEqual(meant);
  });

  test('a hold sounds, offers while still held, and only a press within 3 s of the offer does it', () => {
    const hold: PedalEvent[] = [
      { kind: 'down', pedal: 'one', at: 0 },
      { kind: 'tick', at: 1000 },
      { kind: 'tick', at: 1500 },
      { kind: 'tick', at: 1600 },
      { kind: 'up', pedal: 'one', at: 1700 },
    ];
    expect(meanings(hold)).toEqual(['rising', 'offer']);
    expect(meanings([...hold, ...press(2200, 200)])).toEqual(['rising', 'offer', 'step-back']);
    expect(meanings([...hold, ...press(4500, 200)])).toEqual(['rising', 'offer', 'step-back']);
    expect(meanings([...hold, ...press(4501, 200)])).toEqual(['rising', 'offer', 'lapsed', 'accept']);
    expect(meanings([...hold, { kind: 'tick', at: 9000 }])).toEqual(['rising', 'offer', 'lapsed']);
  });

  test('the bounce of letting go after a hold does not step back', () => {
    expect(meanings([...press(0, 1800), ...press(1830, 80), ...press(2190, 90)])).toEqual(['offer']);
  });

  test('repeats of a held key, a second down without up, an up without down, a lost focus mean nothing', () => {
    const repeats = Array.from(
      { length: 20 },
      (_, i): PedalEvent => ({ kind: 'down', pedal: 'one', at: 100 + 30 * i, repeat: true }),
    );
    expect(
      meanings([{ kind: 'down', pedal: 'one', at: 0 }, ...repeats, { kind: 'up', pedal: 'one', at: 800 }]),
    ).toEqual(['accept']);
    const unmarked = repeats.map((event) => ({ ...event, repeat: false }));
    expect(
      meanings([{ kind: 'down', pedal: 'one', at: 0 }, ...unmarked, { kind: 'up', pedal: 'one', at: 800 }]),
    ).toEqual(['accept']);
    expect(meanings([{ kind: 'up', pedal: 'one', at: 800 }])).toEqual([]);
    expect(
      meanings([
        { kind: 'down', pedal: 'one', at: 0 },
        { kind: 'lost', at: 50 },
        { kind: 'up', pedal: 'one', at: 300 },
      ]),
    ).toEqual([]);
  });

  test('400 ms lock-out after an accept, counted from the last bounce too', () => {
    expect(meanings([...press(0, 100), ...press(500, 100)])).toEqual(['accept']);
    expect(meanings([...press(0, 100), ...press(501, 100)])).toEqual(['accept', 'accept']);
    expect(meanings([...press(0, 100), ...press(490, 60), ...press(900, 60)])).toEqual(['accept']);
  });
});

describe('several pedals', () => {
  test('left offers and left again does it; middle accepts and never steps back; right flags', () => {
    expect(meanings([...press(0, 200, 'left'), ...press(1000, 200, 'left')])).toEqual(['offer', 'step-back']);
    expect(meanings([...press(0, 200, 'left'), ...press(1000, 200, 'middle')])).toEqual(['offer', 'accept']);
    expect(meanings(press(0, 200, 'right'))).toEqual(['flag']);
    expect(meanings(press(0, 5000, 'middle'))).toEqual([]);
    expect(meanings([...press(0, 200, 'left'), ...press(4000, 200, 'left')])).toEqual(['offer', 'lapsed', 'offer']);
  });
});

describe('bounce simulator', () => {
  test.each([1, 2, 3, 4, 5])(
    'seed %i: 1,000 presses with bounces of 30-400 ms give 1,000 accepts: no double, none missed',
    (seed) => {
      const events = bouncing(dice(seed), 1000);
      expect(meanings(events).filter((meaning) => meaning === 'accept')).toHaveLength(1000);
      expect(meanings(events)).not.toContain('step-back');
    },
  );

  test('a foot that rests 2-30 s, 1,000 times, bounces of letting go included, undoes nothing', () => {
    const events = resting(dice(6), 1000);
    expect(meanings(events)).not.toContain('step-back');
    expect(meanings(events)).not.toContain('accept');
  });

  test('presses of 600-1,200 ms lose none', () => {
    const events = longPresses(dice(7), 1000);
    expect(meanings(events).filter((meaning) => meaning === 'accept')).toHaveLength(1000);
  });

  test('whatever contacts come, two accepts are never closer than the lock-out', () => {
    const contact = fc.record({ gap: fc.integer({ min: 0, max: 5000 }), length: fc.integer({ min: 0, max: 3000 }) });
    const run = (contacts: { gap: number; length: number }[]) => {
      let pedal = restingPedal;
      let clock = 0;
      const accepted: number[] = [];
      for (const { gap, length } of contacts) {
        clock += gap;
        for (const event of press(clock, length)) {
          const next = nextPedal(pedal, event);
          pedal = next.pedal;
          if (next.meanings.includes('accept')) accepted.push(event.at);
        }
        clock += length;
      }
      return accepted.every((at, i) => i === 0 || at - (accepted[i - 1] ?? 0) > PEDAL.lockOut);
    };
    fc.assert(fc.property(fc.array(contact, { maxLength: 60 }), run), { seed: 20270612, numRuns: 200 });
  });
});
