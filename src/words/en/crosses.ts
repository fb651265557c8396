/** English words of Crosses. Keys begin with `crosses.`, `action.` or `problem.`. */
export const crosses = {
  'action.plan-cross': 'planned a cross',
  'action.change-cross': 'changed a cross',
  'action.cancel-cross': 'gave a cross up',
  'action.start-with-one-cross': 'started with one cross',

  'problem.no-dam': 'Choose at least one queen mother.',
  'problem.no-drone-side': 'Choose at least one drone mother, sister group or line.',
  'problem.chosen-twice': 'This one is chosen twice. Take one of them out.',
  'problem.shares-not-whole': 'The shares add up to {sum}%, not to 100%. Change them, or leave all of them empty.',
  'problem.cross-code-taken': 'There is a cross {code} already. Give this one another code.',
  'problem.cross-cancelled': 'The cross {code} was given up. Step that back first.',
  'problem.unknown-profile': 'There is no set of timings called {profile}. Choose one of: {known}.',
  'problem.latest-before-day': 'The latest day is before the insemination day, {day}. Change one of the two.',
  'problem.no-day-yet': 'The cross {code} has no insemination day yet. Give it one.',
  'problem.dam-gone':
    '{code} cannot be grafted from: she is gone{on, select, none {} other { ({on})}}. {instead, select, none {Choose a living queen.} other {Living instead: {instead}.}}',
  'problem.dam-not-seen':
    '{code} was not seen {seen, select, none {yet} other {since {seen}}}. Look whether she lives before you count on her.',
  'problem.drone-mother-gone':
    '{code} is gone and no semen of her is kept{last, select, none {} other {; her last drones were good until {last}}}. {instead, select, none {Choose another drone mother.} other {Living instead: {instead}.}}',
  'problem.drone-mother-gone-drones-left': '{code} is gone; her last drones can be used until {last}.',
  'problem.drone-mother-gone-semen-left': '{code} is gone; there is semen of her in a tube.',
  'problem.same-queen-both-sides': '{code} stands on both sides: daughters inseminated with their own mother’s drones.',
  'problem.drones-too-late':
    'Drones cannot be raised for {day}: their eggs must be laid by {laidBy}. The earliest day is {earliest}. Or say that mature drones are there.',
  'problem.queens-too-late':
    'Queens cannot be raised for {day}: the graft was due on {graftBy}. The earliest day is {earliest}. Or say that virgins are there.',
} as const;
