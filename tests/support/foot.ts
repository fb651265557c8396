/** A foot and a worn pedal, simulated: contacts with bounces, a foot that rests, slow presses. Seeded. */
import {
  nextPedal,
  type Pedal,
  type PedalEvent,
  type PedalMeaning,
  restingPedal,
} from '../../src/domain/insemination/pedal.ts';

/** A contact of so many milliseconds. */
export const press = (at: number, length: number, pedal: Pedal = 'one'): PedalEvent[] => [
  { kind: 'down', pedal, at },
  { kind: 'up', pedal, at: at + length },
];

/** What contacts mean by the pedal grammar, one after the other. */
export function meanings(events: readonly PedalEvent[]): PedalMeaning[] {
  let pedal = restingPedal;
  const all: PedalMeaning[] = [];
  for (const event of events) {
    const next = nextPedal(pedal, event);
    pedal = next.pedal;
    all.push(...next.meanings);
  }
  return all;
}

/** A seeded generator (mulberry32), so that a failing day can be walked again. */
export function dice(seed: number) {
  let state = seed;
  return (low: number, high: number): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return low + Math.floor((((t ^ (t >>> 14)) >>> 0) / 4294967296) * (high - low + 1));
  };
}

type Roll = ReturnType<typeof dice>;

/** Presses with up to two bounces before and up to three 30-400 ms after each. */
export function bouncing(roll: Roll, many: number): PedalEvent[] {
  const events: PedalEvent[] = [];
  let clock = 0;
  for (let i = 0; i < many; i++) {
    for (let lead = roll(0, 2); lead > 0; lead--) {
      const touch = roll(2, 55);
      events.push(...press(clock, touch));
      clock += touch + roll(3, 25);
    }
    const length = roll(80, 1150);
    events.push(...press(clock, length));
    clock += length;
    for (let bounce = roll(0, 3); bounce > 0; bounce--) {
      clock += roll(30, 400);
      const touch = roll(5, 120);
      events.push(...press(clock, touch));
      clock += touch;
    }
    clock += roll(600, 8000);
  }
  return events;
}

/** A foot that rests 2-30 s, with the bounce of letting go. */
export function resting(roll: Roll, many: number): PedalEvent[] {
  const events: PedalEvent[] = [];
  let clock = 0;
  for (let i = 0; i < many; i++) {
    const rest = roll(2000, 30_000);
    events.push(...press(clock, rest));
    clock += rest + roll(30, 400);
    events.push(...press(clock, roll(5, 100)));
    clock += roll(4000, 9000);
  }
  return events;
}

/** Presses of 600-1,200 ms. */
export const longPresses = (roll: Roll, many: number): PedalEvent[] =>
  Array.from({ length: many }, (_, i) => press(i * 3000, roll(600, 1200))).flat();
