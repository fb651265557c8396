import type { CrossCount } from '#questions/crosses/cross-queens.ts';
import type { SideQueen } from '#questions/crosses/cross-sides.ts';
import type { CrossStage } from '#questions/crosses/crosses.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import type { Sign } from '../parts/state-sign.tsx';

const signs: Readonly<Record<CrossStage, Sign>> = {
  'no-day': 'planned',
  planned: 'planned',
  raising: 'due',
  today: 'due',
  'day-past': 'late',
  inseminated: 'done',
  'given-up': 'cancelled',
};

/** How far a cross is, as the sign that is drawn. */
export const stageSign = (stage: CrossStage): Sign => signs[stage];

/** How far a cross is, in words. */
export function stageWords(stage: CrossStage, { inseminated, known, laying }: CrossCount): string {
  if (stage !== 'inseminated') return sayAny(`cross-stage.${stage}`);
  return known === 0
    ? say('cross-stage.done', { n: inseminated })
    : say('cross-stage.laying', { laying, known, n: inseminated });
}

/** A day and how far off it is. */
export function dayAndDistance(day: Day): string {
  const days = daysBetween(today(), day);
  const distance = days < 0 ? say('cross.days-ago', { n: -days }) : say('cross.in-days', { n: days });
  return say('cross.day-in', { day: dayWords(day, today()), days, distance });
}

/** Whether a queen of a side is there: the words, or nothing when she was seen this season. */
export function livingWords({ face, why, lastSeen, ended }: SideQueen): string | null {
  if (face.living === 'alive') return null;
  if (face.living === 'gone')
    return ended === null ? say('side.gone') : say('side.gone-on', { day: dayWords(ended, today()) });
  if (why === 'never-seen' || lastSeen === null) return say('side.not-seen-yet');
  return say('side.not-seen-since', { day: dayWords(lastSeen, today()) });
}
