import { barTags } from './bar-tags.ts';
import { combPins } from './comb-pins.ts';
import { countbackCalendar } from './countback-calendar.ts';
import { countbackSheet } from './countback-sheet.ts';
import { incubatorList } from './incubator-list.ts';
import { seasonWallSheet } from './season-wall.ts';

/** The papers and files of Rearing. */
export const rearingPapers = [barTags, combPins, countbackCalendar, countbackSheet, incubatorList, seasonWallSheet];
