import { useState } from 'react';
import { correctLine } from '#actions/semen/correct-line.ts';
import type { StoryLine } from '#questions/semen/tube-story.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { Form, NumberField, TickField } from '../parts/form.tsx';
import { EndField, throughAnEnd } from './end-field.tsx';

/** Corrects a line by a new one: the old reading stays to be read, struck through. */
export function CorrectLine({ line, onDone }: { line: StoryLine; onDone: () => void }) {
  const [volume, setVolume] = useState(line.volume);
  const [end, setEnd] = useState(line.end ?? 'filled');
  const [withdrawn, setWithdrawn] = useState(false);
  const { run, problems, busy } = useDo();
  const hasEnd = throughAnEnd.has(line.step);
  const record = async () => {
    const id = line.id as RecordId;
    const input = withdrawn
      ? { line: id, withdrawn }
      : {
          line: id,
          ...(volume === null ? {} : { microlitres: volume }),
          ...(hasEnd && end !== (line.end ?? 'filled') ? { end } : {}),
        };
    const did = await run(correctLine, input, { happened: true });
    if ('result' in did) onDone();
  };
  return (
    <section className="sheet stack tight" aria-label={say('semen.line.correct')}>
      <h2>{say('semen.line.correct-title')}</h2>
      <p className="note">{say('semen.line.correct-means')}</p>
      <Form act={say('semen.line.correct-act')} onSubmit={record} problems={problems} busy={busy} onLeave={onDone}>
        {withdrawn ? null : (
          <NumberField
            label={say('semen.step.volume')}
            unit="µl"
            value={volume}
            onChange={setVolume}
            at="microlitres"
          />
        )}
        {withdrawn || !hasEnd ? null : <EndField value={end} onChange={setEnd} />}
        <TickField label={say('semen.line.never')} value={withdrawn} onChange={setWithdrawn} />
      </Form>
    </section>
  );
}
