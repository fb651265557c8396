import { refusalsOf, type Wish } from '#domain/rearing/wish.ts';
import { addDays } from '#units/calendar-day.ts';

/** What of a plan can be moved by days; everything that hangs on it moves along. */
export const handles = ['day', 'queen-age', 'drone-age', 'hold-days'] as const;
export type Handle = (typeof handles)[number];

/** How far each handle was moved and is not kept yet. */
export type Moves = Readonly<Record<Handle, number>>;

export const unmoved: Moves = { day: 0, 'queen-age': 0, 'drone-age': 0, 'hold-days': 0 };

export const isMoved = (moves: Moves): boolean => handles.some((handle) => moves[handle] !== 0);

/** A wish with its moves. A later graft makes younger queens, later eggs younger drones: the insemination day stays. */
export function movedWish(wish: Wish, moves: Moves): Wish {
  const { profile } = wish;
  const droneAge = wish.droneAge ?? profile.usual.droneAge;
  return {
    ...wish,
    inseminate: addDays(wish.inseminate, moves.day),
    queenAge: (wish.queenAge ?? profile.usual.queenAge) - moves['queen-age'],
    droneAge: { from: droneAge.from - moves['drone-age'], to: droneAge.to - moves['drone-age'] },
    holdDays: (wish.holdDays ?? profile.usual.holdDays) + moves['hold-days'],
  };
}

/** One handle moved to so many days, or as far towards it as can be planned at all: a queen cannot be inseminated on the day she emerges. */
export function movedAsFar(wish: Wish, moves: Moves, { handle, days }: { handle: Handle; days: number }): Moves {
  const back = Math.sign(moves[handle] - days);
  for (let at = days; at !== moves[handle]; at += back) {
    const next = { ...moves, [handle]: at };
    if (refusalsOf(movedWish(wish, next)).length === 0) return next;
  }
  return moves;
}

/** The fields of a cross that make it the moved wish. */
export function fieldsOf(wish: Wish) {
  return {
    inseminate_on: wish.inseminate,
    queen_age: wish.queenAge ?? null,
    drone_age_from: wish.droneAge?.from ?? null,
    drone_age_to: wish.droneAge?.to ?? null,
    hold_days: wish.holdDays ?? null,
  };
}
