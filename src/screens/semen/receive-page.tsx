import { Link, useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import { receiveSemen } from '#actions/semen/receive-semen.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { ChooseQueens, ChooseRecord } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { Form, NumberField, SelectField, TextArea, TextField } from '../parts/form.tsx';

const mixings = ['', 'layered', 'stirred', 'homogenised'] as const;

/** Writes down semen received from another breeder, as its sender describes it. */
export function ReceivePage() {
  const [code, setCode] = useState('');
  const [mothers, setMothers] = useState<string[]>([]);
  const [volume, setVolume] = useState<number | null>(null);
  const [semen, setSemen] = useState<number | null>(null);
  const [drones, setDrones] = useState<number | null>(null);
  const [mixing, setMixing] = useState<(typeof mixings)[number]>('');
  const [from, setFrom] = useState<string | null>(null);
  const [papers, setPapers] = useState('');
  const [collected, setCollected] = useState<Day | null>(null);
  const [celsius, setCelsius] = useState<number | null>(null);
  const [bore, setBore] = useState<number | null>(null);
  const { data } = useAsk(chooseOthers, {});
  const { run, problems, busy } = useDo();
  const navigate = useNavigate();
  const record = async () => {
    const did = await run(
      receiveSemen,
      {
        tube: {
          code,
          ...(celsius === null ? {} : { temperature_c: celsius }),
          ...(bore === null ? {} : { bore_mm: bore }),
        },
        ...(collected === null ? {} : { collected_on: collected }),
        sources: mothers.map((mother) => ({ mother: mother as RecordId })),
        microlitres: volume ?? Number.NaN,
        ...(semen === null ? {} : { semen }),
        ...(drones === null ? {} : { drones }),
        ...(mixing === '' ? {} : { mixing }),
        ...(from === null ? {} : { from: from as RecordId }),
        ...(papers.trim() === '' ? {} : { papers }),
      },
      { happened: true },
    );
    if ('result' in did && did.result !== null) void navigate({ to: `/semen/tube/${did.result.id}` });
  };
  return (
    <section className="stack">
      <p>
        <Link to="/semen">{say('place.semen')}</Link>
      </p>
      <h1>{say('semen.receive.title')}</h1>
      <Form act={say('semen.receive.record')} onSubmit={record} problems={problems} busy={busy}>
        <div className="fields">
          <TextField label={say('semen.tally.tube-new')} code needed value={code} onChange={setCode} at="tube.code" />
          <NumberField
            label={say('semen.step.volume')}
            unit="µl"
            needed
            value={volume}
            onChange={setVolume}
            at="microlitres"
          />
          <NumberField
            label={say('semen.receive.semen')}
            unit="µl"
            value={semen}
            onChange={setSemen}
            at="semen"
            hint={say('semen.receive.all-if-empty')}
          />
          <DayField
            label={say('semen.receive.collected')}
            value={collected}
            onChange={setCollected}
            at="collected_on"
            hint={say('semen.receive.collected-means')}
          />
          <NumberField
            label={say('semen.receive.celsius')}
            unit="°C"
            value={celsius}
            onChange={setCelsius}
            at="tube.temperature_c"
          />
          <NumberField label={say('semen.bore')} unit="mm" value={bore} onChange={setBore} at="tube.bore_mm" />
          <NumberField label={say('semen.receive.drones')} value={drones} onChange={setDrones} at="drones" />
          <SelectField
            label={say('semen.receive.mixing')}
            value={mixing}
            onChange={setMixing}
            choices={mixings.map((value) => ({
              value,
              words: value === '' ? say('semen.mixing.unknown') : sayAny(`semen.mixing.${value}`),
            }))}
          />
          <ChooseRecord label={say('semen.receive.from')} items={data?.persons ?? []} value={from} onChange={setFrom} />
        </div>
        <ChooseQueens label={say('semen.receive.mothers')} values={mothers} onChange={setMothers} which="all" />
        <TextArea label={say('semen.receive.papers')} value={papers} onChange={setPapers} />
        <p className="caution">
          <span>{say('semen.receive.movement-head')}</span> {say('semen.caution.movement')}
        </p>
      </Form>
    </section>
  );
}
