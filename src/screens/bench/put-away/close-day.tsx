import { useState } from 'react';
import { closeBenchDay } from '#actions/bench/close-bench-day.ts';
import type { BenchSummary } from '#questions/bench/bench-summary.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { numberTyped } from '../../parts/form.tsx';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { Checklist, putAwayItems } from '../checklist.tsx';

/** Tubes measured again, the short list, and the day closed. */
export function CloseDay({ summary }: { summary: BenchSummary }) {
  const [read, setRead] = useState<Record<string, string>>({});
  const [ticked, setTicked] = useState<string[]>([]);
  const { run, busy, problems } = useDo();
  const record = async () => {
    const remeasured = Object.entries(read).flatMap(([tube, text]) => {
      const microlitres = numberTyped(text);
      return microlitres === null ? [] : [{ tube: tube as RecordId, microlitres }];
    });
    const did = await run(closeBenchDay, { bench_day: summary.day.id, ticked, remeasured }, { happened: true });
    if ('result' in did) tell(say('bench.away.done'));
  };
  if (summary.day.closed !== null) return <p>{say('bench.closed-at', { at: summary.day.closed.slice(11, 16) })}</p>;
  return (
    <section className="stack tight">
      {summary.tubes.length === 0 ? null : (
        <fieldset className="checklist">
          <legend>{say('bench.away.tubes')}</legend>
          <ul>
            {summary.tubes.map(({ id, code, left, remeasured }) => (
              <li key={id}>
                <label className="cluster">
                  <strong className="code">{code}</strong> {say('bench.away.booked', { left: left.toFixed(1) })}
                  <span className="visually-hidden">{say('bench.away.read-now')}</span>
                  <input
                    className="bench-number"
                    inputMode="decimal"
                    value={read[id] ?? ''}
                    placeholder={remeasured ? '✓' : say('bench.away.read-now')}
                    onChange={({ target }) => setRead({ ...read, [id]: target.value })}
                  />{' '}
                  µl
                </label>
              </li>
            ))}
          </ul>
        </fieldset>
      )}
      <Checklist
        title={say('bench.put-away')}
        prefix="bench.put-away"
        items={putAwayItems}
        ticked={ticked}
        onTick={(item) => setTicked([...ticked, item])}
      />
      <Problems problems={problems} title={say('form.not-kept')} />
      <div className="cluster">
        <button type="button" className="button main" disabled={busy} onClick={() => void record()}>
          {say('bench.away.close')}
        </button>
      </div>
    </section>
  );
}
