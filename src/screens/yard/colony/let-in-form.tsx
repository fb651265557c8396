import { useState } from 'react';
import { introduceQueen } from '#actions/yard/introduce-queen.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { ChooseQueen } from '../../parts/choose-record.tsx';
import { DayField } from '../../parts/day-words.tsx';
import { ChoiceField, Form, TextField, TickField } from '../../parts/form.tsx';
import type { ActFormProps } from './act-form.ts';
import { happened, useColonyAct } from './use-colony-act.ts';

const taken = ['unknown', 'yes', 'no', 'dead'] as const;
type Taken = (typeof taken)[number];

/** Lets a queen into this colony. */
export function LetInForm({ leaf, onDone }: ActFormProps) {
  const { run, problems, busy, done } = useColonyAct(onDone);
  const [queen, setQueen] = useState<string | null>(null);
  const [day, setDay] = useState<Day | null>(today());
  const [method, setMethod] = useState('');
  const [excluder, setExcluder] = useState(false);
  const [accepted, setAccepted] = useState<Taken>('unknown');
  const keep = async () => {
    const input = {
      queen: queen as RecordId,
      colony: leaf.nuc.id,
      day: day ?? today(),
      excluder,
      ...(method.trim() === '' ? {} : { method }),
      ...(accepted === 'unknown' ? {} : { accepted: accepted === 'yes', dead: accepted === 'dead' }),
    };
    done(await run(introduceQueen, input, happened), say('colony.let-in-kept'));
  };
  return (
    <Form act={say('colony.let-in')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <div className="fields">
        <ChooseQueen label={say('colony.queen')} value={queen} onChange={setQueen} at="queen" needed />
        <DayField label={say('colony.on')} value={day} onChange={setDay} at="day" />
        <TextField
          label={say('colony.method')}
          value={method}
          onChange={setMethod}
          at="method"
          hint={say('colony.method-hint')}
        />
      </div>
      <TickField label={say('colony.excluder')} value={excluder} onChange={setExcluder} />
      <ChoiceField
        label={say('colony.accepted')}
        value={accepted}
        onChange={setAccepted}
        choices={taken.map((value) => ({ value, words: sayAny(`colony.accepted.${value}`) }))}
      />
    </Form>
  );
}
