import { useState } from 'react';
import { stepTube, type TubeStep, tubeSteps } from '#actions/semen/step-tube.ts';
import type { TubeLeaf } from '#questions/semen/tube-story.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { useDoOrKeep } from '../link/outbox/use-do-or-keep.ts';
import { useAsk } from '../link/use-ask.ts';
import { ChooseRecord } from '../parts/choose-record.tsx';
import { Form, NumberField, SelectField } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { EndField, throughAnEnd } from './end-field.tsx';

type Typed = {
  step: TubeStep;
  microlitres: number | null;
  semen: number | null;
  end: 'filled' | 'other';
  from: string | null;
  fromEnd: 'filled' | 'other';
  to: string | null;
  person: string | null;
};

const start: Typed = {
  step: 'sealed',
  microlitres: null,
  semen: null,
  end: 'filled',
  from: null,
  fromEnd: 'filled',
  to: null,
  person: null,
};

const withVolume: readonly TubeStep[] = ['drawn-over', 'diluent', 'spun-off', 'lost', 'broken', 'sent', 're-measured'];

function inputOf(tube: string, { step, microlitres, semen, end, from, fromEnd, to, person }: Typed) {
  const some = <T,>(name: string, value: T | null, holds: boolean) =>
    holds && value !== null ? { [name]: value } : {};
  return {
    tube: tube as RecordId,
    step,
    ...some('microlitres', microlitres, withVolume.includes(step)),
    ...some('semen', semen, step === 'spun-off'),
    ...some('end', end, throughAnEnd.has(step)),
    ...some('from', from as RecordId | null, step === 'drawn-over'),
    ...some('from_end', fromEnd, step === 'drawn-over'),
    ...some('to', to as RecordId | null, step === 'sent'),
    ...some('person', person as RecordId | null, true),
  };
}

/** Writes the next step into the ledger of a tube. */
export function StepForm({ leaf }: { leaf: TubeLeaf }) {
  const [typed, setTyped] = useState(start);
  const { runOrKeep, problems, busy } = useDoOrKeep();
  const { data } = useAsk(chooseOthers, {});
  const put = (some: Partial<Typed>) => setTyped({ ...typed, ...some });
  const { step } = typed;
  const record = async () => {
    const did = await runOrKeep(stepTube, inputOf(leaf.tube.id, typed));
    if ('problems' in did) return;
    setTyped({ ...start, person: typed.person });
    tell(say('semen.step.done'));
  };
  return (
    <section className="stack tight">
      <h2>{say('semen.step.title')}</h2>
      <Form act={say('semen.step.record')} onSubmit={record} problems={problems} busy={busy}>
        <div className="fields">
          <SelectField
            label={say('semen.step.what')}
            value={step}
            onChange={(next) => put({ step: next })}
            choices={tubeSteps.map((value) => ({ value, words: sayAny(`semen.step.${value}`) }))}
          />
          {step === 'drawn-over' ? (
            <ChooseRecord
              label={say('semen.step.from')}
              items={leaf.others.map(({ id, code, left }) => ({ id, code, beside: `${left.toFixed(1)} µl` }))}
              value={typed.from}
              onChange={(from) => put({ from })}
              at="from"
            />
          ) : null}
          {withVolume.includes(step) ? (
            <NumberField
              label={say(step === 're-measured' ? 'semen.step.read' : 'semen.step.volume')}
              unit="µl"
              value={typed.microlitres}
              onChange={(microlitres) => put({ microlitres })}
              at="microlitres"
              hint={
                step === 'lost' || step === 'broken' || step === 'sent' ? say('semen.step.all-if-empty') : undefined
              }
            />
          ) : null}
          {step === 'spun-off' ? (
            <NumberField
              label={say('semen.step.semen')}
              unit="µl"
              value={typed.semen}
              onChange={(semen) => put({ semen })}
            />
          ) : null}
          {step === 'sent' ? (
            <ChooseRecord
              label={say('semen.step.to')}
              items={data?.persons ?? []}
              value={typed.to}
              onChange={(to) => put({ to })}
            />
          ) : null}
          <ChooseRecord
            label={say('semen.step.by')}
            items={data?.persons ?? []}
            value={typed.person}
            onChange={(person) => put({ person })}
          />
        </div>
        {step === 'drawn-over' ? (
          <EndField label={say('semen.step.from-end')} value={typed.fromEnd} onChange={(fromEnd) => put({ fromEnd })} />
        ) : null}
        {throughAnEnd.has(step) ? <EndField value={typed.end} onChange={(end) => put({ end })} /> : null}
        {step === 'frozen' || step === 'thawed' ? (
          <p className="caution">
            <span>{say('semen.caution.nitrogen-head')}</span> {say('semen.caution.nitrogen')}
          </p>
        ) : null}
        {step === 'sent' ? (
          <p className="caution">
            <span>{say('semen.caution.movement-head')}</span> {say('semen.caution.movement')}
          </p>
        ) : null}
      </Form>
    </section>
  );
}
