/**
 * What a person reads when something is wrong: where and what comes from the screen, here is what was found, what was
 * expected and what to do. One sentence or two a code. The list is closed: a test compares it with the code.
 */
export const problems = {
  'problem.needed': 'Nothing is written here. Please fill it in.',
  'problem.wrong-kind': 'This is not of the expected kind ({expected}). Please write it again.',
  'problem.too-small': 'This is too small: the least is {least}.',
  'problem.too-big': 'This is too big: the most is {most}.',
  'problem.not-in-list': 'This is not one of the choices: {list}.',
  'problem.unknown-field': 'There is no such field: {fields}. Take it out.',
  'problem.wrong': 'This could not be read. Please write it again.',
  'problem.bad-json': 'This is not JSON. Check its commas, quotes and brackets.',
  'problem.cannot-restore': 'This cannot be restored: {why} The book is as it was.',
  'problem.too-large': 'This is larger than {most} bytes. Send it in smaller parts.',
  'problem.unknown-path': 'There is nothing at {path}. See /api/openapi.json for what there is.',
  'problem.our-fault': 'Something went wrong in Combwright itself; nothing was changed. Try again, and tell us.',
  'problem.foreign-host': 'This name does not belong to Combwright on this machine.',
  'problem.foreign-origin': 'Another page may not read or write here.',
  'problem.not-json': 'Send JSON or bytes, with that content type.',
  'problem.not-a-day': 'This is not a day of the calendar. Write it like 2027-06-12.',
  'problem.not-a-moment': 'This is not a time with its zone. Write it like 2027-06-12T14:05+02:00[Europe/Berlin].',
  'problem.not-an-id': 'This is not the id of a record. Choose the record from the list.',
  'problem.act-id-used': 'An act with this id was recorded before with other content. Send it again under a new id.',
  'problem.unknown-record': 'There is no such {kind} in the book. It may have been stepped back; choose another.',
  'problem.unknown-kind': 'There is no kind of record called “{kind}”.',
  'problem.unknown-action': 'There is no action called “{name}”. This device may run another version; update it.',
  'problem.unknown-act': 'There is no such act in the history.',
  'problem.stepped-back-already': 'This act was stepped back before. Step that step back to have it again.',
  'problem.built-on': 'Act {seq} was built on it ({name}). Step back that one first, or both together.',
  'problem.still-used': 'A {by} still points at this {kind}. Remove or change that first.',
  'problem.changed-since':
    'Somebody changed this while you were writing; it now says “{now}”. Look again, then save what is right.',
  'problem.corrected-by-new-line': 'A line of a ledger is never changed. Write a new line that corrects it.',
  'problem.code-taken': 'A living queen bears the code {code} already. Give one of the two another code.',
  'problem.descent-loop':
    '{code} would descend from herself ({loop}). Check her dam, and the drones her dam was inseminated with.',
  'problem.tube-overdrawn':
    'More came out of tube {code} than was in it: {by} µl too much. Measure it again, or correct a line of its ledger.',
  'problem.queen-in-two-places':
    '{code} stands in two places at one time. End one of her stays, or say that two queens were exchanged.',
  'problem.daughter-older-than-dam':
    '{daughter} emerged {emerged}, but her dam {dam} only {damEmerged}. Correct one of the two days, or the dam.',
  'problem.book-not-empty':
    'The book holds {queens} queens already. The made-up stock goes only into an empty book; try it in another data folder.',
  'problem.no-sample': 'There is no made-up stock to take away.',
  'problem.sample-stands':
    'The made-up stock stands in this book. Take it away first: what you bring in now would go with it.',
  'problem.queen-or-group': 'Name a queen or a group of sisters here, one of the two.',
  'problem.stood-twice': 'This one is named twice. Each counts once; take one out.',
  'problem.stood-backwards': 'They stood there until {to}, before they came ({from}). Write the earlier day first.',
  'problem.flew-when-none-stood':
    '{code} is written down as having flown there on {day}, when by these days nothing stood there. Check both.',
  'problem.unknown-mating-season': 'There is no such season of a mating place. It may have been taken back.',
  'problem.season-flown-to':
    '{queens}{more, plural, =0 {} one { and one more} other { and # more}} {n, plural, one {is} other {are}} written down as mated there. What kinship says of {n, plural, one {her} other {them}} rests on this season.',
  'problem.not-lent': 'This queen is not lent to anybody.',
} as const;
