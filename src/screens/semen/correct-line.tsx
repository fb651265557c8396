import { useState } from 'react';
import { correctLine } from '#actions/semen/correct-line.ts';
import type { StoryLine } from '#questions/semen/tube-story.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { ChoiceField, Form, NumberField, TickField } from '../parts/form.tsx';

/** Steps by which semen goes in or out through one end: of a tube with layers the end says whose drones they were. */
const throughAnEnd: readonly StoryLine['step'][] = [
  'collected',
  'received',
  'diluent',
  'drawn-over',
  'dose',
  'lost',
  'broken',
  'sent',
];

/** Corrects a line by a new one: the old reading stays to be read, struck through. */
export function CorrectLine({ line, onDone }: { line: StoryLine; onDone: () => void }) {
  const [volume, setVolume] = useState(line.volume);
  const [end, setEnd] = useState(line.end ?? 'filled');
  const [withdrawn, setWithdrawn] = useState(false);
  const { run, problems, busy } = useDo();
  const hasEnd = throughAnEnd.includes(line.step);
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
        {withdrawn || !hasEnd ? null : (
          <ChoiceField
            label={say('semen.step.end')}
            value={end}
            onChange={setEnd}
            choices={(['filled', 'other'] as const).map((value) => ({ value, words: sayAny(`semen.end.${value}`) }))}
          />
        )}
        <TickField label={say('semen.line.never')} value={withdrawn} onChange={setWithdrawn} />
      </Form>
    </section>
  );
}
