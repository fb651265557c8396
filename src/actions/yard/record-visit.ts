import { recording } from '../mechanism/recording.ts';

/** Begins a visit: one person in one yard on one day, with the weather and whether nectar came in. */
export const recordVisit = recording('visit', {
  name: 'record-visit',
  place: 'yard',
  what: 'Write down a visit to a yard: the day, who judges, weather and flow.',
});
