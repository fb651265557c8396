import { useState } from 'react';
import { correct } from '#actions/history/correct.ts';
import type { Day } from '#units/calendar-day.ts';
import { say } from '#words/say.ts';
import { DayField } from '../../parts/day-words.tsx';
import { Form, SelectField, TextField } from '../../parts/form.tsx';
import { formChoices } from '../new-colony-page.tsx';
import type { ActFormProps } from './act-form.ts';
import { useColonyAct } from './use-colony-act.ts';

/** Corrects code, form or beginning of this colony; the old reading stays in its history. */
export function EditForm({ leaf, onDone }: ActFormProps) {
  const { run, problems, busy, done } = useColonyAct(onDone);
  const [code, setCode] = useState(leaf.nuc.code);
  const [form, setForm] = useState(leaf.nuc.form);
  const [since, setSince] = useState<Day | null>(leaf.nuc.since);
  const keep = async () => {
    const did = await run(correct, { kind: 'colony', id: leaf.nuc.id, set: { code, form, since } });
    done(did, say('colony.changed'));
  };
  return (
    <Form act={say('colony.edit')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <div className="fields">
        <TextField label={say('colony.code')} value={code} onChange={setCode} at="set.code" needed code />
        <SelectField label={say('colony.form')} value={form} onChange={setForm} at="set.form" choices={formChoices} />
        <DayField label={say('colony.since')} value={since} onChange={setSince} at="set.since" />
      </div>
    </Form>
  );
}
