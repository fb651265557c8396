/**
 * Bench arithmetic against practice values and the effort of a scripted day.
 * Sources: 10-15 drones at about 1 µl give the 5-8 µl dose, 12 queens a session (common practice); 59.5 % of drones yield, Rhodes
 * et al. 2011, Apidologie 42:29-38; 130 drones of about 1 µl pooled serve 15-16 queens at 8 µl (a breeders' archive page).
 */
import { describe, expect, test } from 'vitest';
import { type BenchEvent, type Board, openBoard } from '#domain/insemination/bench-board.ts';
import { nextState } from '#domain/insemination/next-state.ts';
import { dosesLeft } from '#domain/semen/next-dose.ts';

test('130 µl are 16 doses of 8 µl, 15 when 2 µl stay in the tube; 15 drones handled at 59.5 % and 1 µl are one dose', () => {
  expect(dosesLeft(130, 8)).toBe(16);
  expect(dosesLeft(127, 8)).toBe(15);
  expect(dosesLeft(15 * 0.595, 8)).toBe(1);
  expect(dosesLeft(10 * 0.595, 5)).toBe(1);
});

type Played = { board: Board; doses: number; presses: number[] };

/** Works through 12 queens with a pedal and, if there is one, a reader; every fourth queen leaks, one is dead. */
function day(withReader: boolean): Played {
  const queue = Array.from({ length: 12 }, (_, i) => ({ queen: `Q${i}`, cage: `k${i}` }));
  const rack = [{ tube: 'C-07', left: 120, end: 'filled' as const, collectFrom: null }];
  let board = openBoard({ cross: 'B', usualDose: 8, queue, rack, elsewhere: { queens: [], tubes: [] }, tip: 1 });
  let clock = 0;
  let doses = 0;
  const presses: number[] = [];
  const send = (event: object) => {
    clock += 1500;
    const turn = nextState(board, { at: clock, ...event } as BenchEvent);
    board = turn.board;
    doses += turn.acts.filter((act) => act.kind === 'dose-given').length;
  };
  const press = () => {
    send({ kind: 'down', pedal: 'one', at: clock });
    send({ kind: 'up', pedal: 'one', at: clock - 1500 + 250 });
  };
  queue.forEach(({ cage }, i) => {
    let count = 0;
    const counted = (act: () => void) => {
      act();
      count += 1;
    };
    if (withReader) send({ kind: 'presented', label: { kind: 'cage', id: cage } });
    else counted(press);
    if (i === 6) counted(() => send({ kind: 'not-done', reason: 'dead' }));
    else counted(press);
    if (i % 4 === 1) counted(() => send({ kind: 'digit', digit: 1 }));
    if (withReader && i !== 6) send({ kind: 'presented', label: { kind: 'cage', id: cage } });
    presses.push(count);
  });
  return { board, doses, presses };
}

describe('effort of a scripted day (interface.md, measure 1)', () => {
  const median = (counts: number[]) => [...counts].sort((a, b) => a - b)[Math.floor(counts.length / 2)];

  test('with a reader: median 1 actuation a queen, none over 4; eleven doses, all closed', () => {
    const { board, doses, presses } = day(true);
    expect([median(presses), Math.max(...presses) <= 4, doses]).toEqual([1, true, 11]);
    expect(board.facts.queue.map((entry) => entry.status)).toEqual(
      Array.from({ length: 12 }, (_, i) => (i === 6 ? 'not-done' : 'closed')),
    );
  });

  test('without: median 2, none over 4', () => {
    const { doses, presses } = day(false);
    expect([median(presses), Math.max(...presses) <= 4, doses]).toEqual([2, true, 11]);
  });
});
