import { useState } from 'react';
import { splitColony } from '#actions/yard/split-colony.ts';
import type { Day } from '#units/calendar-day.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { DayField } from '../../parts/day-words.tsx';
import { Form, NumberField, SelectField, TextField, TickField } from '../../parts/form.tsx';
import { type ColonyForm, formChoices } from '../new-colony-page.tsx';
import type { ActFormProps } from './act-form.ts';
import { happened, useColonyAct } from './use-colony-act.ts';

/** Makes a new colony of part of this one. */
export function SplitForm({ leaf, onDone }: ActFormProps) {
  const { run, problems, busy, done } = useColonyAct(onDone);
  const [code, setCode] = useState('');
  const [form, setForm] = useState<ColonyForm>('nuc');
  const [spot, setSpot] = useState<number | null>(null);
  const [on, setOn] = useState<Day | null>(today());
  const [goes, setGoes] = useState(false);
  const keep = async () => {
    const made = { colony: { code, form }, on: on ?? today(), queen_goes: goes, ...(spot === null ? {} : { spot }) };
    done(await run(splitColony, { from: leaf.nuc.id, ...made }, happened), say('colony.split-kept', { code }));
  };
  return (
    <Form act={say('colony.split')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <div className="fields">
        <TextField label={say('colony.split-code')} value={code} onChange={setCode} at="colony.code" needed code />
        <SelectField label={say('colony.form')} value={form} onChange={setForm} choices={formChoices} />
        <NumberField label={say('colony.spot')} value={spot} onChange={setSpot} at="spot" />
        <DayField label={say('colony.on')} value={on} onChange={setOn} at="on" />
      </div>
      <TickField label={say('colony.split-queen')} value={goes} onChange={setGoes} />
    </Form>
  );
}
