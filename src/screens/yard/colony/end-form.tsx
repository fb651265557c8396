import { useState } from 'react';
import { endColony } from '#actions/yard/end-colony.ts';
import type { Day } from '#units/calendar-day.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { DayField } from '../../parts/day-words.tsx';
import { ChoiceField, Form, TickField } from '../../parts/form.tsx';
import type { ActFormProps } from './act-form.ts';
import { happened, useColonyAct } from './use-colony-act.ts';

const ways = ['lost', 'dissolved', 'sold'] as const;

/** Writes down the end of this colony. */
export function EndForm({ leaf, onDone }: ActFormProps) {
  const { run, problems, busy, done } = useColonyAct(onDone);
  const [how, setHow] = useState<(typeof ways)[number]>('lost');
  const [on, setOn] = useState<Day | null>(today());
  const [notBefore, setNotBefore] = useState<Day | null>(null);
  const [queenToo, setQueenToo] = useState(false);
  const keep = async () => {
    const span = { on: on ?? today(), ...(notBefore === null ? {} : { not_before: notBefore }) };
    const did = await run(endColony, { colony: leaf.nuc.id, how, ...span, queen_too: queenToo }, happened);
    done(did, say('colony.ended'));
  };
  return (
    <Form act={say('colony.end')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <ChoiceField
        label={say('colony.end-how')}
        value={how}
        onChange={setHow}
        choices={ways.map((value) => ({ value, words: sayAny(`colony.end.${value}`) }))}
      />
      <div className="fields">
        <DayField label={say('colony.end-on')} value={on} onChange={setOn} at="on" />
        <DayField label={say('colony.end-not-before')} value={notBefore} onChange={setNotBefore} at="not_before" />
      </div>
      {leaf.nuc.head === null || how === 'dissolved' ? null : (
        <TickField label={say('colony.end-queen')} value={queenToo} onChange={setQueenToo} />
      )}
    </Form>
  );
}
