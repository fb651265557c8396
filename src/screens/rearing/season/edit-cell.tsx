import { useEffect, useState } from 'react';
import type { Day } from '#units/calendar-day.ts';
import { dayWords, shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import type { SaidProblem } from '../../link/server.ts';
import { today } from '../../link/this-device.ts';
import { readTypedDay } from '../../parts/day-words.tsx';
import { numberTyped } from '../../parts/form.tsx';
import { sayRefusals } from '../../parts/problems.tsx';

/** Keeps a new value; gives what is wrong with it, nothing when it was kept. */
export type Keep<T> = (value: T) => Promise<readonly SaidProblem[]>;

type TypedProps<T> = {
  label: string;
  shown: string;
  /** Reads what was typed; `undefined` when it cannot be read. */
  read: (typed: string) => T | undefined;
  unreadable: string;
  /** What stands there again when it is emptied. */
  emptied?: string;
  onKeep: Keep<T>;
  width: 'number' | 'day' | 'words';
  hint?: string;
};

/** A value edited where it stands: kept when the field is left or Enter is pressed, put back with Escape. */
function EditTyped<T>({ label, shown, read, unreadable, emptied, onKeep, width, hint }: TypedProps<T>) {
  const [typed, setTyped] = useState(shown);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => setTyped(shown), [shown]);
  const keep = async () => {
    if (typed.trim() === shown.trim()) return setProblem(null);
    if (typed.trim() === '' && emptied === shown) {
      setTyped(shown);
      return setProblem(null);
    }
    const value = read(typed.trim());
    if (value === undefined) return setProblem(unreadable);
    const problems = await onKeep(value);
    setProblem(problems.length === 0 ? null : sayRefusals(problems));
    if (problems.length === 0 && typed.trim() === '' && emptied !== undefined) setTyped(emptied);
  };
  const said = `${label}-problem`.replace(/\W+/g, '-');
  return (
    <span className={`edit-cell ${width}`}>
      <input
        type="text"
        aria-label={label}
        autoComplete="off"
        inputMode={width === 'number' ? 'decimal' : 'text'}
        value={typed}
        onChange={({ target }) => setTyped(target.value)}
        onBlur={() => void keep()}
        onKeyDown={(event) => {
          if (event.key === 'Enter') void keep();
          else if (event.key === 'Escape') {
            setTyped(shown);
            setProblem(null);
          }
        }}
        {...(problem === null ? {} : { 'aria-invalid': true as const, 'aria-describedby': said })}
      />
      {hint === undefined ? null : <span className="note">{hint}</span>}
      {problem === null ? null : (
        <span className="problem" id={said} role="alert">
          {problem}
        </span>
      )}
    </span>
  );
}

type CellProps<T> = { label: string; value: T | null; onKeep: Keep<T | null>; hint?: string };

/** A number edited where it stands; empty is no number, or the usual one again where there is one. */
export const EditNumber = ({ label, value, usual, onKeep, hint }: CellProps<number> & { usual?: number }) => (
  <EditTyped<number | null>
    label={label}
    shown={String(value ?? usual ?? '')}
    {...(usual === undefined ? {} : { emptied: String(usual) })}
    read={(typed) => (typed === '' ? null : (numberTyped(typed) ?? undefined))}
    unreadable={say('form.not-a-number')}
    onKeep={onKeep}
    width="number"
    {...(hint === undefined ? {} : { hint })}
  />
);

/** A day edited where it stands, typed the way people say it; empty is no day. */
export const EditDay = ({ label, value, onKeep }: CellProps<Day>) => (
  <EditTyped<Day | null>
    label={label}
    shown={value === null ? '' : shortDay(value)}
    read={(typed) => (typed === '' ? null : (readTypedDay(typed) ?? undefined))}
    unreadable={say('day.unreadable')}
    onKeep={onKeep}
    width="day"
    {...(value === null ? {} : { hint: dayWords(value, today()) })}
  />
);
