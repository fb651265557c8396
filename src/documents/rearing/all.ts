import { countbackCalendar } from './countback-calendar.ts';
import { countbackSheet } from './countback-sheet.ts';

/** The papers and files of Rearing. */
export const rearingPapers = [countbackCalendar, countbackSheet];
