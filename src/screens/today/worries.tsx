import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { settleWorry } from '#actions/history/settle-worry.ts';
import type { OpenWorry } from '#questions/today/today.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { leafOf } from '../link/leaf.ts';
import { useDo } from '../link/use-do.ts';
import { Form, TextField } from '../parts/form.tsx';
import { sayHere } from '../parts/problems.tsx';

/** Settling: a word on how, kept with the worry. */
export function SettleForm({
  onSettle,
  onLeave,
}: {
  onSettle: (how: string) => Promise<boolean>;
  onLeave: () => void;
}) {
  const [how, setHow] = useState('');
  const { problems } = useDo();
  return (
    <Form
      act={say('worry.settle')}
      problems={problems}
      onLeave={onLeave}
      onSubmit={async () => {
        if (how.trim() !== '' && (await onSettle(how))) onLeave();
      }}
    >
      <TextField label={say('worry.how')} hint={say('worry.how-hint')} value={how} onChange={setHow} needed whole />
    </Form>
  );
}

function Worry({ worry }: { worry: OpenWorry }) {
  const { run } = useDo();
  const [open, setOpen] = useState(false);
  const { aboutKind, about } = worry;
  const settle = async (how: string) => !('problems' in (await run(settleWorry, { worry: worry.id as RecordId, how })));
  return (
    <li className="worry">
      <p>
        {sayHere(worry.problem)}{' '}
        {aboutKind === null || about === null ? null : (
          <Link to={leafOf(aboutKind, about)}>{say('worry.look', { kind: sayAny(`kind.${aboutKind}`) })}</Link>
        )}
      </p>
      {open ? (
        <SettleForm onSettle={settle} onLeave={() => setOpen(false)} />
      ) : (
        <button type="button" className="button" onClick={() => setOpen(true)}>
          {say('worry.settle')}
        </button>
      )}
    </li>
  );
}

/** Open worries: what was recorded though it did not fit, until somebody settles it. */
export function Worries({ worries }: { worries: readonly OpenWorry[] }) {
  if (worries.length === 0) return null;
  return (
    <section className="stack tight" aria-labelledby="worries">
      <h2 id="worries">{say('worry.title', { n: worries.length })}</h2>
      <ul className="worries">
        {worries.map((worry) => (
          <Worry key={worry.id} worry={worry} />
        ))}
      </ul>
    </section>
  );
}
