import { useState } from 'react';
import { mountTip } from '#actions/bench/mount-tip.ts';
import { catches } from '#questions/semen/catches.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { ChooseRecord } from '../parts/choose-record.tsx';
import { shortDay } from '../parts/day-words.tsx';
import { Form, TextField } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';

/** Collect and give: a tip that is filled from a catch and given at once. */
export function MountTip({ tip }: { tip: number }) {
  const [code, setCode] = useState(say('bench.tip', { tip }));
  const [from, setFrom] = useState<string | null>(null);
  const { data } = useAsk(catches, { newest: 60 });
  const { run, problems, busy } = useDo();
  const items = (data?.catches ?? []).map((each) => ({
    id: each.id,
    code: each.mothers.join(', ') || say('semen.strangers'),
    beside: [each.code ?? '', shortDay(each.day)].filter(Boolean).join(' · '),
  }));
  if (items.length === 0) return null;
  const record = async () => {
    const did = await run(mountTip, { code, catch: from as RecordId }, { happened: true });
    if ('result' in did) tell(say('bench.tip.mounted'));
  };
  return (
    <details>
      <summary>{say('bench.tip.title')}</summary>
      <p className="note">{say('bench.tip.how')}</p>
      <Form act={say('bench.tip.mount')} onSubmit={record} problems={problems} busy={busy}>
        <div className="fields">
          <TextField label={say('bench.tip.code')} value={code} onChange={setCode} at="code" />
          <ChooseRecord label={say('bench.tip.catch')} items={items} value={from} onChange={setFrom} at="catch" />
        </div>
      </Form>
    </details>
  );
}
