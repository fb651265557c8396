import { recording } from '../mechanism/recording.ts';

/** Records of the stock book that are written down just as they are entered. */
export const recordPerson = recording('person', {
  name: 'record-person',
  place: 'stock',
  what: 'Write down a helper, operator or partner.',
});
export const recordYard = recording('yard', { name: 'record-yard', place: 'yard', what: 'Write down a yard.' });
export const recordLine = recording('line', { name: 'record-line', place: 'stock', what: 'Write down a line.' });
export const recordSisterGroup = recording('sister_group', {
  name: 'record-sister-group',
  place: 'stock',
  what: 'Write down sister queens that are not recorded one by one.',
});
export const recordCage = recording('cage', {
  name: 'record-cage',
  place: 'bench',
  what: 'Write down a numbered cage.',
});
export const recordNotWatched = recording('not_watched', {
  name: 'record-not-watched',
  place: 'yard',
  what: 'Say that nobody looked, or wrote, for a time.',
});
export const recordExchange = recording('identity_exchange', {
  name: 'record-exchange',
  place: 'stock',
  what: 'Say that two queens were exchanged, and when it was noticed.',
});
export const recordNaturalMating = recording('natural_mating', {
  name: 'record-natural-mating',
  place: 'stock',
  what: 'Write down that a queen mated by herself, or may have.',
});
export const recordPoolWord = recording('pool_word', {
  name: 'record-pool-word',
  place: 'stock',
  what: "Write down a seller's word on what a queen was inseminated with.",
});
export const recordLabResult = recording('lab_result', {
  name: 'record-lab-result',
  place: 'semen',
  what: 'Write down a count, colour or volume read in the laboratory.',
});
export const recordScore = recording('score', {
  name: 'record-score',
  place: 'yard',
  what: 'Write down a trait read on a colony.',
});
export const recordNote = recording('note', { name: 'record-note', place: 'edge', what: 'Attach a note to a record.' });
export const recordSalineBatch = recording('saline_batch', {
  name: 'record-saline',
  place: 'bench',
  what: 'Write down a batch of saline.',
});
export const recordParcel = recording('parcel', {
  name: 'record-parcel',
  place: 'semen',
  what: 'Write down what was sent or received.',
});
