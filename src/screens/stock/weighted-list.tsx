import { useMemo } from 'react';
import { say } from '#words/say.ts';
import { type Choosable, ChooseRecord } from '../parts/choose-record.tsx';
import { NumberField } from '../parts/form.tsx';
import { QueenMark } from '../parts/queen-mark.tsx';

/** One chosen record with its per cent of the whole; `null` takes an equal part of what is left. */
export type Weighted = { id: string; percent: number | null };

type WeightedListProps = {
  label: string;
  items: readonly Choosable[];
  values: readonly Weighted[];
  onChange: (values: Weighted[]) => void;
  /** What the per cent of each means; left out where all count alike. */
  percentLabel?: (code: string) => string;
  hint?: string;
  at?: string;
};

/** Chooses several records and, where it is known, how much of the whole each is (or how likely). */
export function WeightedList({ label, items, values, onChange, percentLabel, hint, at }: WeightedListProps) {
  const left = useMemo(() => items.filter(({ id }) => !values.some((value) => value.id === id)), [items, values]);
  const itemOf = (id: string) => items.find((item) => item.id === id);
  const put = (id: string, percent: number | null) =>
    onChange(values.map((value) => (value.id === id ? { id, percent } : value)));
  return (
    <div className="stack tight whole">
      <ChooseRecord
        several
        label={label}
        items={left}
        value={null}
        onChange={(id) => id !== null && onChange([...values, { id, percent: null }])}
        at={at}
        {...(hint === undefined ? {} : { hint })}
      />
      {values.length === 0 ? null : (
        <ul className="weighted">
          {values.map(({ id, percent }) => {
            const item = itemOf(id);
            const code = item?.code ?? '';
            return (
              <li key={id}>
                <span className="queen-link">
                  {item?.queen === undefined ? null : <QueenMark year={item.queen.year} mark={item.queen.mark} />}
                  <span className="code">{code}</span> <span className="soft">{item?.beside}</span>
                </span>
                {values.length < 2 || percentLabel === undefined ? null : (
                  <NumberField
                    label={percentLabel(code)}
                    value={percent}
                    onChange={(number) => put(id, number)}
                    unit="%"
                  />
                )}
                <button
                  type="button"
                  className="button quiet"
                  aria-label={say('choose.take-out', { code })}
                  onClick={() => onChange(values.filter((value) => value.id !== id))}
                >
                  ✕
                </button>
              </li>
            );
          })}
        </ul>
      )}
    </div>
  );
}

/** Shares of the whole from per cents; those not said take equal parts of what is left. */
export function sharesOf(values: readonly Weighted[]): number[] {
  const said = values.reduce((sum, { percent }) => sum + (percent ?? 0), 0) / 100;
  const silent = values.filter(({ percent }) => percent === null).length;
  const each = silent === 0 ? 0 : Math.max(0, 1 - said) / silent;
  return values.map(({ percent }) => (percent === null ? each : percent / 100));
}
