import { useState } from 'react';
import { readTest } from '#actions/yard/read-test.ts';
import type { OpenTest } from '#questions/yard/score-cards.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { Form, NumberField } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';
import { ComesTo } from './counted-fields.tsx';
import type { Kept } from './use-cards.ts';

type OpenProps = { test: OpenTest; code: string; person: string; onKept: (kept: Kept) => void };

/** A brood test begun another day: only how many cells are empty now is asked. */
export function CountTest({ test, code, person, onKept }: OpenProps) {
  const { run, problems, busy } = useDo();
  const [counted, setCounted] = useState<number | null>(null);
  const begun = { among: test.among, empty_before: test.emptyBefore, span_from: test.begun, counted };
  const entry = test.method === 'freeze' ? { ...begun, method: 'freeze' as const } : begun;
  const keep = async () => {
    if (counted === null) return;
    const by = person === '' ? {} : { person: person as RecordId };
    const did = await run(readTest, { score: test.id, counted, day: today(), ...by }, { happened: true });
    if ('problems' in did) return;
    tell(say('score.kept', { code }));
    onKept({ act: did.act, what: say('score.did-test') });
  };
  return (
    <section className="stack tight">
      <h2>{say('score.test-count', { day: shortDay(test.begun) })}</h2>
      <p>{say('score.test-of', { among: test.among, before: test.emptyBefore, begun: shortDay(test.begun) })}</p>
      <Form act={say('score.test-keep')} onSubmit={keep} problems={problems} busy={busy}>
        <div className="fields">
          <NumberField
            label={say('score.cells-emptied')}
            hint={say('score.cells-emptied-hint')}
            at="counted"
            value={counted}
            onChange={setCounted}
          />
        </div>
        <ComesTo trait={test.trait} entry={entry} />
      </Form>
    </section>
  );
}
