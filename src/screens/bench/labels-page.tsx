import '../style/bench.css';
import { useMemo, useState } from 'react';
import { benchLabels } from '#questions/bench/bench-labels.ts';
import { say } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { useAsk } from '../link/use-ask.ts';
import { NumberField } from '../parts/form.tsx';
import { useKeys } from '../shell/keys.ts';

type What = 'cages' | 'slots';
const SHEET = 112;

/** Labels of one kind, from a number to a number. */
function LabelRange({ what }: { what: What }) {
  const { data } = useAsk(benchLabels, { what });
  const [from, setFrom] = useState<number | null>(null);
  const [many, setMany] = useState<number | null>(24);
  const first = from ?? (data === undefined ? 1 : data.highest + 1);
  const last = first + (many ?? 1) - 1;
  return (
    <section className="stack tight">
      <h2>{say(`bench.labels.${what}`)}</h2>
      <p>{say(`bench.labels.${what}-how`)}</p>
      <div className="cluster">
        <NumberField label={say('bench.labels.from')} value={first} onChange={setFrom} />
        <NumberField label={say('bench.labels.many')} value={many} onChange={setMany} />
        <a
          className="button main"
          href={withInput('/api/paper/bench-labels', { what, from: first, to: last })}
          target="_blank"
          rel="noreferrer"
        >
          {say('bench.labels.print', { first, last })}
        </a>
      </div>
      {data === undefined || data.highest === 0 ? null : (
        <p className="note">{say('bench.labels.highest', { highest: data.highest })}</p>
      )}
    </section>
  );
}

/** Labels that stay: cages and rack slots, numbered for good, readable by eye and by a reader. */
export function LabelsPage() {
  const print = useMemo(
    () => ({
      P: () => window.open(withInput('/api/paper/bench-labels', { what: 'cages', from: 1, to: SHEET }), '_blank'),
    }),
    [],
  );
  useKeys(print);
  return (
    <section className="stack">
      <h1>{say('bench.labels')}</h1>
      <p>{say('bench.labels.what')}</p>
      <LabelRange what="cages" />
      <LabelRange what="slots" />
      <section className="stack tight">
        <h2>{say('bench.labels.nucs')}</h2>
        <p>{say('bench.labels.nucs-how')}</p>
        <p>
          <a className="button" href="/yard">
            {say('place.yard')}
          </a>
        </p>
      </section>
      <div className="caution">
        <p>{say('bench.labels.caution')}</p>
      </div>
    </section>
  );
}
