import { useState } from 'react';
import { keepTube } from '#actions/semen/keep-tube.ts';
import type { TubeLeaf } from '#questions/semen/tube-story.ts';
import { say, sayAny } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { Form, NumberField, SelectField, TextField } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';

const mixings = ['', 'layered', 'stirred', 'homogenised'] as const;

/** Where a tube is kept and how cold, its bore, and what to assume where the ledger leaves its mixing open. */
export function KeepTube({ leaf: { tube } }: { leaf: TubeLeaf }) {
  const [where, setWhere] = useState(tube.stored_where ?? '');
  const [celsius, setCelsius] = useState(tube.temperature_c);
  const [bore, setBore] = useState(tube.bore_mm);
  const [mixing, setMixing] = useState<(typeof mixings)[number]>(tube.mixing ?? '');
  const { run, problems, busy } = useDo();
  const record = async () => {
    const did = await run(keepTube, {
      tube: tube.id,
      stored_where: where.trim() === '' ? null : where.trim(),
      temperature_c: celsius,
      bore_mm: bore,
      mixing: mixing === '' ? null : mixing,
    });
    if ('result' in did) tell(say('semen.keep.done'));
  };
  return (
    <details>
      <summary>{say('semen.keep.title')}</summary>
      <Form act={say('semen.keep.record')} onSubmit={record} problems={problems} busy={busy}>
        <div className="fields">
          <TextField label={say('semen.keep.where')} value={where} onChange={setWhere} />
          <NumberField
            label={say('semen.keep.celsius')}
            unit="°C"
            value={celsius}
            onChange={setCelsius}
            at="temperature_c"
          />
          <NumberField label={say('semen.bore')} unit="mm" value={bore} onChange={setBore} at="bore_mm" />
          <SelectField
            label={say('semen.keep.mixing')}
            value={mixing}
            onChange={setMixing}
            choices={mixings.map((value) => ({
              value,
              words: value === '' ? say('semen.keep.as-written') : sayAny(`semen.mixing.${value}`),
            }))}
          />
        </div>
      </Form>
    </details>
  );
}
