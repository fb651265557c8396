import '../style/form.css';
import { createContext, type FormEvent, type ReactNode, useCallback, useContext, useId, useState } from 'react';
import { say } from '#words/say.ts';
import type { SaidProblem } from '../link/server.ts';
import { Problems, problemAt } from './problems.tsx';

const FormProblems = createContext<readonly SaidProblem[]>([]);

/** The words of the problem at a path of the form's input, if there is one. */
export function useProblemAt(at: string | undefined): string | undefined {
  const problems = useContext(FormProblems);
  return at === undefined ? undefined : problemAt(problems, at);
}

type FormProps = {
  /** What the main button says: an act in plain words. */
  act: string;
  onSubmit: () => unknown;
  problems: readonly SaidProblem[];
  busy?: boolean;
  /** Leaves the form; a second button. */
  onLeave?: (() => void) | undefined;
  children: ReactNode;
  label?: string;
};

/** A form: its fields, the summary of what keeps it from being kept, one main button. What was typed stays. */
export function Form({ act, onSubmit, problems, busy = false, onLeave, children, label }: FormProps) {
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!busy) void onSubmit();
  };
  return (
    <FormProblems value={problems}>
      <form className="form" onSubmit={submit} noValidate aria-label={label ?? act}>
        <Problems problems={problems} title={say('form.not-kept')} />
        {children}
        <div className="cluster">
          <button type="submit" className="button main" aria-disabled={busy}>
            {act}
          </button>
          {onLeave === undefined ? null : (
            <button type="button" className="button" onClick={onLeave}>
              {say('form.leave')}
            </button>
          )}
        </div>
      </form>
    </FormProblems>
  );
}

/**
 * What is typed so far, kept while the page is open and over a reload when `key` is given.
 * @example const [draft, put, clear] = useDraft('new-queen', { code: '' }); put({ code: '27-014' });
 */
export function useDraft<T extends object>(
  key: string | null,
  initial: T,
): [T, (some: Partial<T>) => void, () => void] {
  const name = `combwright.draft.${key}`;
  const [draft, setDraft] = useState<T>(() => {
    const kept = key === null ? null : sessionStorage.getItem(name);
    return kept === null ? initial : { ...initial, ...(JSON.parse(kept) as Partial<T>) };
  });
  const put = useCallback(
    (some: Partial<T>) =>
      setDraft((before) => {
        const after = { ...before, ...some };
        if (key !== null) sessionStorage.setItem(name, JSON.stringify(after));
        return after;
      }),
    [key, name],
  );
  const clear = () => {
    sessionStorage.removeItem(name);
    setDraft(initial);
  };
  return [draft, put, clear];
}

type Described = { 'aria-invalid'?: true; 'aria-describedby'?: string; 'aria-required'?: true };

type FrameProps = {
  id: string;
  label: string;
  hint?: ReactNode;
  problem?: string | undefined;
  needed?: boolean | undefined;
  whole?: boolean | undefined;
  children: (described: Described) => ReactNode;
};

/** Label, field, hint and problem, tied together for screen readers. Give the `described` attributes to the field. */
export function FieldFrame({ id, label, hint, problem, needed, whole, children }: FrameProps) {
  const told = [problem === undefined ? '' : `${id}-problem`, hint == null ? '' : `${id}-hint`]
    .filter(Boolean)
    .join(' ');
  const described: Described = {
    ...(problem === undefined ? {} : { 'aria-invalid': true as const }),
    ...(told === '' ? {} : { 'aria-describedby': told }),
    ...(needed ? { 'aria-required': true as const } : {}),
  };
  return (
    <div className={whole ? 'field whole' : 'field'}>
      <label htmlFor={id}>
        {label}
        {needed ? <span className="needed"> {say('form.needed')}</span> : null}
      </label>
      {children(described)}
      {hint == null ? null : (
        <span className="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {problem === undefined ? null : (
        <span className="problem" id={`${id}-problem`}>
          {problem}
        </span>
      )}
    </div>
  );
}

type FieldProps<T> = {
  label: string;
  value: T;
  onChange: (value: T) => void;
  /** Path of the field in the action's input. */
  at?: string | undefined;
  hint?: ReactNode;
  needed?: boolean;
  /** Takes the whole width of the form. */
  whole?: boolean;
};

/** One line of text. */
export function TextField({
  label,
  value,
  onChange,
  at,
  hint,
  needed,
  whole,
  code = false,
}: FieldProps<string> & { code?: boolean }) {
  const id = useId();
  return (
    <FieldFrame id={id} label={label} hint={hint} problem={useProblemAt(at)} needed={needed} whole={whole}>
      {(described) => (
        <input
          id={id}
          type="text"
          autoComplete="off"
          spellCheck={!code}
          className={code ? 'code' : undefined}
          value={value}
          onChange={({ target }) => onChange(target.value)}
          {...described}
        />
      )}
    </FieldFrame>
  );
}

/** Several lines of plain text. */
export function TextArea({ label, value, onChange, at, hint, needed }: FieldProps<string>) {
  const id = useId();
  return (
    <FieldFrame id={id} label={label} hint={hint} problem={useProblemAt(at)} needed={needed} whole>
      {(described) => (
        <textarea id={id} value={value} onChange={({ target }) => onChange(target.value)} {...described} />
      )}
    </FieldFrame>
  );
}

const NUMBER = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/;

/** The number typed, with a comma or a point; `null` when it is empty or no number. A grouping such as 1,234.5 is refused. */
export function numberTyped(text: string): number | null {
  const plain = text.trim();
  return NUMBER.test(plain) ? Number(plain.replace(',', '.')) : null;
}

/** A number with its unit beside it; `8,5` and `8.5` are the same. Told as a number, `null` while empty or unreadable. */
export function NumberField({
  label,
  value,
  onChange,
  at,
  hint,
  needed,
  unit,
}: FieldProps<number | null> & { unit?: string }) {
  const id = useId();
  const [typed, setTyped] = useState({ text: value === null ? '' : String(value), number: value });
  if (typed.number !== value) setTyped({ text: value === null ? '' : String(value), number: value });
  const unreadable = typed.text.trim() !== '' && typed.number === null;
  const problem = useProblemAt(at) ?? (unreadable ? say('form.not-a-number') : undefined);
  return (
    <FieldFrame id={id} label={label} hint={hint} problem={problem} needed={needed}>
      {(described) => (
        <span className="with-unit">
          <input
            id={id}
            type="text"
            inputMode="decimal"
            autoComplete="off"
            value={typed.text}
            onChange={({ target }) => {
              const number = numberTyped(target.value);
              setTyped({ text: target.value, number });
              onChange(number);
            }}
            {...described}
          />
          {unit === undefined ? null : <span>{unit}</span>}
        </span>
      )}
    </FieldFrame>
  );
}

/** One choice of a list: what is kept, and the words for it. */
export type Choice<T extends string> = { value: T; words: string };

/** One of several words in a list that opens; for more than about five. */
export function SelectField<T extends string>({
  label,
  value,
  onChange,
  at,
  hint,
  needed,
  choices,
}: FieldProps<T> & { choices: readonly Choice<T>[] }) {
  const id = useId();
  return (
    <FieldFrame id={id} label={label} hint={hint} problem={useProblemAt(at)} needed={needed}>
      {(described) => (
        <select id={id} value={value} onChange={({ target }) => onChange(target.value as T)} {...described}>
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.words}
            </option>
          ))}
        </select>
      )}
    </FieldFrame>
  );
}

/** One of a few words, all in sight. */
export function ChoiceField<T extends string>({
  label,
  value,
  onChange,
  at,
  hint,
  choices,
}: FieldProps<T> & { choices: readonly Choice<T>[] }) {
  const id = useId();
  const problem = useProblemAt(at);
  return (
    <fieldset className="choices">
      <legend>{label}</legend>
      <div className="row">
        {choices.map((choice) => (
          <label key={choice.value}>
            <input
              type="radio"
              name={id}
              value={choice.value}
              checked={choice.value === value}
              onChange={() => onChange(choice.value)}
            />
            {choice.words}
          </label>
        ))}
      </div>
      {hint == null ? null : <span className="note">{hint}</span>}
      {problem === undefined ? null : <p className="problem">{problem}</p>}
    </fieldset>
  );
}

/** Yes or no, as a box to tick. */
export function TickField({ label, value, onChange }: Pick<FieldProps<boolean>, 'label' | 'value' | 'onChange'>) {
  return (
    <label className="tick">
      <input type="checkbox" checked={value} onChange={({ target }) => onChange(target.checked)} />
      {label}
    </label>
  );
}
