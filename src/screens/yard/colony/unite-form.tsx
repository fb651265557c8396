import { useState } from 'react';
import { uniteColonies } from '#actions/yard/end-colony.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { ChooseRecord } from '../../parts/choose-record.tsx';
import { DayField } from '../../parts/day-words.tsx';
import { Form, SelectField } from '../../parts/form.tsx';
import { calledOf } from '../../parts/identity-band.tsx';
import { useYards } from '../new-colony-page.tsx';
import type { ActFormProps } from './act-form.ts';
import { happened, useColonyAct } from './use-colony-act.ts';

/** Unites this colony with another; this one is then no more. */
export function UniteForm({ leaf, onDone }: ActFormProps) {
  const { run, problems, busy, done } = useColonyAct(onDone);
  const nucs = useYards().flatMap((yard) => yard.nucs);
  const [into, setInto] = useState<string | null>(null);
  const [queen, setQueen] = useState('');
  const [on, setOn] = useState<Day | null>(today());
  const other = nucs.find(({ id }) => id === into);
  const heads = [leaf.nuc.head, other?.head ?? null].filter((head) => head !== null);
  const keep = async () => {
    const heading = queen === '' ? {} : { queen: queen as RecordId };
    const input = { from: leaf.nuc.id, into: into as RecordId, on: on ?? today(), ...heading };
    done(await run(uniteColonies, input, happened), say('colony.united', { code: leaf.nuc.code }));
  };
  return (
    <Form act={say('colony.unite')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <div className="fields">
        <ChooseRecord
          label={say('colony.unite-into')}
          items={nucs.filter(({ id }) => id !== leaf.nuc.id)}
          value={into}
          onChange={setInto}
          at="into"
          needed
        />
        <SelectField
          label={say('colony.unite-queen')}
          value={queen}
          onChange={setQueen}
          at="queen"
          choices={[
            { value: '', words: say('colony.accepted.unknown') },
            ...heads.map((head) => ({ value: head.id, words: calledOf(head) })),
          ]}
        />
        <DayField label={say('colony.on')} value={on} onChange={setOn} at="on" />
      </div>
    </Form>
  );
}
