import { Link, useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import { addTube } from '#actions/semen/add-tube.ts';
import { say, sayAny } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { ChoiceField, Form, NumberField, TextField } from '../parts/form.tsx';

const forms = ['capillary', 'vial', 'tip'] as const;

/** Writes down a tube before anything is in it. */
export function NewTubePage() {
  const [code, setCode] = useState('');
  const [form, setForm] = useState<(typeof forms)[number]>('capillary');
  const [bore, setBore] = useState<number | null>(null);
  const [slot, setSlot] = useState('');
  const [where, setWhere] = useState('');
  const { run, problems, busy } = useDo();
  const navigate = useNavigate();
  const record = async () => {
    const did = await run(addTube, {
      code,
      form,
      ...(bore === null ? {} : { bore_mm: bore }),
      ...(slot.trim() === '' ? {} : { slot }),
      ...(where.trim() === '' ? {} : { stored_where: where }),
    });
    if ('result' in did && did.result !== null) void navigate({ to: `/semen/tube/${did.result.id}` });
  };
  return (
    <section className="stack">
      <p>
        <Link to="/semen">{say('place.semen')}</Link>
      </p>
      <h1>{say('semen.new-tube.title')}</h1>
      <Form act={say('semen.new-tube.record')} onSubmit={record} problems={problems} busy={busy}>
        <ChoiceField
          label={say('semen.new-tube.form')}
          value={form}
          onChange={setForm}
          choices={forms.map((value) => ({ value, words: sayAny(`semen.form.${value}`) }))}
        />
        <div className="fields">
          <TextField label={say('semen.tally.tube-new')} code needed value={code} onChange={setCode} at="code" />
          <NumberField
            label={say('semen.bore')}
            unit="mm"
            value={bore}
            onChange={setBore}
            at="bore_mm"
            hint={say('semen.bore-hint')}
          />
          <TextField label={say('semen.slot')} value={slot} onChange={setSlot} hint={say('semen.slot-hint')} />
          <TextField label={say('semen.keep.where')} value={where} onChange={setWhere} />
        </div>
        <p className="note">{say('semen.new-tube.label')}</p>
      </Form>
    </section>
  );
}
