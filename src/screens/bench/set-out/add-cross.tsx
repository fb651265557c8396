import { useState } from 'react';
import { queueQueens } from '#actions/bench/queue-queens.ts';
import type { SetOut } from '#questions/bench/set-out.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { ChooseQueens, ChooseRecord } from '../../parts/choose-record.tsx';
import { dayWords } from '../../parts/day-words.tsx';
import { Form } from '../../parts/form.tsx';

/** A cross of another day comes to the bench with its first queens. */
export function AddCross({ setOut: { day, others } }: { setOut: SetOut }) {
  const [cross, setCross] = useState<string | null>(null);
  const [queens, setQueens] = useState<string[]>([]);
  const { run, problems, busy } = useDo();
  if (others.length === 0 || day.closed !== null) return null;
  const record = async () => {
    const did = await run(queueQueens, {
      bench_day: day.id,
      cross: cross as RecordId,
      queens: queens.map((queen) => ({ queen: queen as RecordId })),
    });
    if ('problems' in did) return;
    setCross(null);
    setQueens([]);
  };
  return (
    <Form
      act={say('bench.add-cross-act')}
      onSubmit={record}
      problems={problems}
      busy={busy}
      label={say('bench.add-cross')}
    >
      <ChooseRecord
        label={say('bench.add-cross')}
        items={others.map(({ id, code, day: on }) => ({ id, code, beside: on === null ? '' : dayWords(on) }))}
        value={cross}
        onChange={setCross}
        at="cross"
      />
      <ChooseQueens label={say('bench.queue.add')} values={queens} onChange={setQueens} />
    </Form>
  );
}
