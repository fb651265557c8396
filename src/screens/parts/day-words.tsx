import { useId, useRef, useState } from 'react';
import { type Day, parseDay } from '#units/calendar-day.ts';
import { typedDay } from '#units/typed-day.ts';
import { dayComesFirst, dayWords, monthWords, shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { FieldFrame, useProblemAt } from './form.tsx';

export { dayWords, shortDay };

/** A day in words, with its ISO form for machines. The year is left out when it is this year. */
export const DayWords = ({ day }: { day: Day }) => <time dateTime={day}>{dayWords(day, today())}</time>;

/** Reads what a person typed as a day on this device. */
export const readTypedDay = (typed: string, insemination?: Day): Day | null =>
  typedDay(typed, {
    today: today(),
    dayFirst: dayComesFirst(navigator.language),
    months: monthWords(),
    ...(insemination === undefined ? {} : { insemination }),
  });

/** What is typed into a day field: the text, and the day it is read as (`null` when empty or not readable). */
export type TypedDay = { typed: string; day: Day | null };

type DayFieldProps = {
  label: string;
  /** The day, or what was typed so far. */
  value: Day | null;
  /** Told at every change; `null` when empty or not readable yet. */
  onChange: (day: Day | null) => void;
  /** Path of the field in the action's input, for its problems. */
  at?: string;
  hint?: string;
  /** `I-20` counts from this day. */
  insemination?: Day | undefined;
  /** Needed to be filled in: said in the label. */
  needed?: boolean;
};

/**
 * A day typed the way people say it (`12.6.`, `12/6`, `+7`, `12 Jun`, ISO), or picked. What is typed stays as it is; the day it is
 * read as stands below in words.
 */
export function DayField({ label, value, onChange, at, hint, insemination, needed }: DayFieldProps) {
  const id = useId();
  const picker = useRef<HTMLInputElement>(null);
  const [typed, setTyped] = useState<TypedDay>({ typed: value === null ? '' : shortDay(value), day: value });
  // A day set from outside (a form that was cleared, a suggestion taken) is shown as such.
  if (typed.day !== value) setTyped({ typed: value === null ? '' : shortDay(value), day: value });
  const put = (text: string, day: Day | null) => {
    setTyped({ typed: text, day });
    onChange(day);
  };
  const unreadable = typed.typed.trim() !== '' && typed.day === null;
  const problem = useProblemAt(at) ?? (unreadable ? say('day.unreadable') : undefined);
  const read = typed.day === null ? hint : dayWords(typed.day);
  return (
    <FieldFrame id={id} label={label} hint={read ?? say('day.hint')} problem={problem} needed={needed}>
      {(described) => (
        <span className="day-field">
          <input
            id={id}
            type="text"
            autoComplete="off"
            value={typed.typed}
            onChange={({ target }) => put(target.value, readTypedDay(target.value, insemination))}
            {...described}
          />
          <input
            ref={picker}
            type="date"
            className="day-picker"
            tabIndex={-1}
            aria-hidden="true"
            value={typed.day ?? ''}
            onChange={({ target }) => {
              const picked = parseDay(target.value);
              if (picked !== null) put(shortDay(picked), picked);
            }}
          />
          <button
            type="button"
            className="button quiet"
            aria-label={say('day.pick', { field: label })}
            onClick={() => picker.current?.showPicker()}
          >
            <svg
              viewBox="0 0 24 24"
              width="20"
              height="20"
              aria-hidden="true"
              fill="none"
              stroke="currentColor"
              strokeWidth="2"
            >
              <path d="M4 6h16v14H4Zm0 5h16M8 3v5M16 3v5" />
            </svg>
          </button>
        </span>
      )}
    </FieldFrame>
  );
}
