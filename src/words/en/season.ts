/** English words of the season plan: what stands in its way, how sure it is, how it can be mended. */
export const season = {
  'task.trial-eversion': 'Trial: evert ten drones of each mother. Few that give semen: take more, or another mother.',
  'carry.trial-eversion': 'catching box, lens, alcohol cloth',

  'task.larvae': '{n} larvae',
  'task.combs': '{n, plural, one {# comb} other {# combs}}',

  'profile.standard-text': 'Standard text',
  'profile.common-practice': 'Common practice',
  'profile.early-spring': 'Early spring, or comb still to be drawn',

  'basis.published': 'published',
  'basis.common practice': 'common practice',
  'basis.worked out': 'worked out',
  'basis.from memory': 'from memory',
  'basis.own records': 'your own records',

  'step.grafted': 'grafted',
  'step.accepted': 'accepted',
  'step.emerged': 'emerged',
  'step.of-age': 'of age on the day',
  'step.ready': 'sound and found on the day',
  'step.laying': 'laying worker brood',

  'dots.needed': 'needed: {amount}',
  'dots.drones': '{n} drones',

  'limit.cells': 'cells in the starters ({number})',
  'limit.incubatorPlaces': 'places in the incubator ({number})',
  'limit.nucs': 'nucs ({number})',
  'limit.combsPerMother': 'drone combs a mother ({number})',
  'limit.queensPerDay': 'queens a day ({number})',
  'limit.blockedDays': 'days nobody can work',
  'limit.oneYardADay': 'one yard a day',
  'limit.dates': 'the days wished for crosses',
  'limit.today': 'what should have begun before today',

  'season.clash': 'Not all of it can be done. These do not go together: {limits}.',
  'season.short': '{queens} of {wanted} queens fit. At most {most} could.',
  'season.best': 'No plan does better.',
  'season.gap': 'No plan can be better by more than {percent} %.',
  'season.sure': 'In {seasons} of 20 seasons like this both sexes are enough.',
  'season.weakest-queens': 'The queens of {mother} give first: {times} of 20.',
  'season.weakest-drones': 'The drones of {mother} give first: {times} of 20.',

  'repair.graft-more': 'Graft {larvae} more of {dam} on {on}; they are {queenAge} days old on the day.',
  'repair.other-drones': 'Use the drones of {mother} instead of {instead}.',
  'repair.move-day': 'Move to {to}.',
  'repair.fewer-queens': 'Do {queens} instead of {wanted} queens.',

  'instead.eggs-late':
    'Drone eggs should have been laid {ago, plural, one {# day} other {# days}} ago. The earliest day is {earliest}.',
  'instead.drones-there': 'Drones that are there: {mothers}.',
  'instead.no-drones': 'No drones are on the way for that day.',

  'action.begin-season': 'began a season',
  'action.change-season': 'changed a season',
  'action.take-days-off': 'took days off',
  'action.work-on-days': 'works on days off after all',
  'action.take-season-plan': 'took a plan of the season',
  'action.move-insemination-day': 'moved an insemination day',
  'action.repair-day': 'mended an insemination day',

  'problem.limit-of-none': 'With none of it nothing can be planned. Leave it empty for no limit.',
  'problem.days-off-backwards': 'The days off end ({to}) before they begin ({from}). Write the earlier day first.',
  'problem.cross-begun': 'Cross {code} is being raised already. Mend its day instead.',
  'problem.planned-in-past': '{day} was {ago, plural, one {# day} other {# days}} ago. Propose days again, from today.',
  'problem.no-cross-on-day': 'No cross is to be inseminated on {day}.',
  'problem.not-of-that-day': 'She has no part in the crosses of that day. Look at the day again.',
  'problem.no-crosses': 'At least one cross is needed.',
  'problem.season-backwards': 'The season ends ({to}) before it begins ({from}). Write the earlier day first.',
  'problem.season-too-long': 'This is a season of {days} days. Plan at most {most} at once.',
  'problem.cross-twice': 'Two crosses are called {cross}. Rename one.',
  'problem.no-drone-mother': 'Cross {cross} has no drone mother. Choose at least one.',
  'problem.shares-not-one': 'The shares of the drone mothers of {cross} add up to {found}, not to 1. Correct them.',
  'problem.wishes-contradict': 'Cross {cross} may not begin before it must be done. Correct one of its two days.',
} as const;
