import { type CrossLeaf, crossLeaf } from '#questions/crosses/cross-leaf.ts';
import type { TaskLine } from '#questions/today/task-line.ts';
import { type Day, earlierOf } from '#units/calendar-day.ts';
import { say, sayAny } from '#words/say.ts';
import { calendarFile } from '../calendar.ts';
import { paper } from '../paper.ts';
import { besideTask } from './task-beside.ts';

const summaryOf = (task: TaskLine): string => task.words ?? sayAny(`task.${task.key}`, { queens: task.queens });

/** Where, for whom and what to carry, as the entry's description. */
function descriptionOf(task: TaskLine): string {
  const carry = sayAny(`carry.${task.key}`, { queens: task.queens });
  const bring = carry.startsWith('[') ? '' : `${say('today.bring')} ${carry}`;
  return [besideTask(task), task.yard ?? '', bring].filter((words) => words !== '').join('\n');
}

function fileOf({ cross, tasks, gone }: CrossLeaf): string {
  const title = (words: string) => `${words} (${say('cross.named', { code: cross.code })})`;
  const dropped = gone.map(({ uid, key, words, from, to, sequence }) => ({
    ...{ uid, sequence, from, to },
    summary: title(words ?? sayAny(`task.${key}`, { queens: cross.queens_wanted })),
    cancelled: true,
  }));
  const standing = tasks.map((task) => ({
    uid: task.uid,
    sequence: task.sequence,
    from: task.from,
    to: task.to,
    summary: title(summaryOf(task)),
    description: descriptionOf(task),
    cancelled: task.state === 'cancelled',
  }));
  const entries = [...standing, ...dropped];
  const first = entries.map(({ from }) => from).reduce(earlierOf, '9999-12-31' as Day);
  return calendarFile(entries, { name: say('cross.title', { code: cross.code }), stamped: first });
}

/** The calendar file of a cross (iCalendar, RFC 5545): whole days, the same uid for life, moved by its sequence, cancelled and not dropped. */
export const countbackCalendar = paper({
  name: 'countback-calendar',
  form: 'text/calendar; charset=utf-8',
  question: crossLeaf,
  fileName: (leaf) => `cross-${leaf?.cross.code ?? 'unknown'}.ics`,
  draw: async (leaf) => new Uint8Array(new TextEncoder().encode(leaf === null ? '' : fileOf(leaf))),
});
