import { useState } from 'react';
import { beginSeason } from '#actions/rearing/season/set-season.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { DayField } from '../../parts/day-words.tsx';
import { Form, NumberField } from '../../parts/form.tsx';

/** Two combs, a bar and the day they meet, three times over: what the page is for, with no day of any year. */
const DrawnSeason = () => (
  <svg viewBox="0 0 320 96" className="drawing wide" aria-hidden="true">
    <path d="M90 6v84M180 6v84M270 6v84" className="heavy" />
    <path d="M14 24h60M104 24h60" className="heavy" />
    <path d="M74 15h34v18h-34ZM164 15h124v18h-124Z" className="filled" />
    <path d="M36 70h42M126 70h42M216 70h42" className="heavy" />
    <path d="M78 61h26v18h-26ZM168 61h26v18h-26ZM258 61h26v18h-26Z" className="filled" />
  </svg>
);

type BeginProps = { span: { from_on: Day; to_on: Day }; crosses: number };

/** Begins a season: its days, and the first limit that bites. */
export function BeginSeason({ span, crosses }: BeginProps) {
  const { run, problems, busy } = useDo();
  const [from, setFrom] = useState<Day | null>(span.from_on);
  const [to, setTo] = useState<Day | null>(span.to_on);
  const [queens, setQueens] = useState<number | null>(20);
  const submit = () => {
    if (from === null || to === null) return;
    const limits = { operators: 1, queens_per_operator: queens, combs_per_mother: 2, sure: 0.9 };
    return run(beginSeason, { name: String(yearOf(from)), from_on: from, to_on: to, ...limits });
  };
  return (
    <section className="empty stack">
      <p>{say('season.empty')}</p>
      <DrawnSeason />
      <p>{say('season.empty-crosses', { n: crosses })}</p>
      <Form act={say('season.begin')} problems={problems} busy={busy} onSubmit={submit}>
        <div className="fields">
          <DayField label={say('season.from')} value={from} onChange={setFrom} at="from_on" needed />
          <DayField label={say('season.to')} value={to} onChange={setTo} at="to_on" needed />
          <NumberField
            label={say('season.queens_per_operator')}
            value={queens}
            onChange={setQueens}
            at="queens_per_operator"
            hint={say('season.more-limits')}
          />
        </div>
      </Form>
    </section>
  );
}
