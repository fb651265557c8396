import { useState } from 'react';
import { changeBenchDay } from '#actions/bench/change-bench-day.ts';
import { salineBatches } from '#questions/bench/saline-batches.ts';
import type { SetOut } from '#questions/bench/set-out.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { ChooseRecord } from '../../parts/choose-record.tsx';
import { Form, NumberField, TextField } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';

function SalineField({ value, onChange }: { value: string | null; onChange: (id: string | null) => void }) {
  const { data } = useAsk(salineBatches, {});
  const items = (data?.batches ?? []).map(({ id, code, madeOn, antibiotic }) => ({
    id,
    code,
    beside: [madeOn ?? '', antibiotic === null || antibiotic === 'none' ? '' : antibiotic].filter(Boolean).join(' · '),
  }));
  return (
    <ChooseRecord
      label={say('bench.day.saline')}
      items={items}
      value={value}
      onChange={onChange}
      hint={say('bench.day.saline-hint')}
    />
  );
}

/** Place, operator, saline, gas bottle and first tip of the day. */
export function DayForm({ setOut: { day, nextTip } }: { setOut: SetOut }) {
  const [place, setPlace] = useState(day.place ?? '');
  const [gas, setGas] = useState(day.gas_bottle ?? '');
  const [operator, setOperator] = useState<string | null>(day.operator);
  const [saline, setSaline] = useState<string | null>(day.saline);
  const [tip, setTip] = useState<number | null>(day.first_tip ?? nextTip);
  const { data } = useAsk(chooseOthers, {});
  const { run, problems, busy } = useDo();
  const record = async () => {
    const did = await run(changeBenchDay, {
      bench_day: day.id,
      place: place.trim() === '' ? null : place.trim(),
      gas_bottle: gas.trim() === '' ? null : gas.trim(),
      operator: operator as RecordId | null,
      saline: saline as RecordId | null,
      first_tip: tip,
    });
    if ('result' in did) tell(say('bench.day.saved'));
  };
  return (
    <Form act={say('bench.day.save')} onSubmit={record} problems={problems} busy={busy} label={say('bench.day')}>
      <div className="fields">
        <TextField label={say('bench.days.place')} value={place} onChange={setPlace} at="place" />
        <ChooseRecord
          label={say('bench.days.operator')}
          items={data?.persons ?? []}
          value={operator}
          onChange={setOperator}
        />
        <SalineField value={saline} onChange={setSaline} />
        <TextField label={say('bench.day.gas')} value={gas} onChange={setGas} at="gas_bottle" />
        <NumberField label={say('bench.day.first-tip')} value={tip} onChange={setTip} at="first_tip" />
      </div>
    </Form>
  );
}
