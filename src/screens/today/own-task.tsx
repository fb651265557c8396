import { useState } from 'react';
import { addTask } from '#actions/rearing/add-task.ts';
import type { Day } from '#units/calendar-day.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useDo } from '../link/use-do.ts';
import { DayField } from '../parts/day-words.tsx';
import { Form, TextField } from '../parts/form.tsx';

/** Writes down a task in one's own words. */
export function OwnTask({ onLeave }: { onLeave: () => void }) {
  const { run, problems, busy } = useDo();
  const [words, setWords] = useState('');
  const [day, setDay] = useState<Day | null>(today());
  const submit = async () => {
    const did = await run(addTask, { words, day: day ?? ('' as Day) });
    if (!('problems' in did)) onLeave();
  };
  return (
    <Form act={say('own-task.keep')} problems={problems} busy={busy} onLeave={onLeave} onSubmit={submit}>
      <div className="fields">
        <TextField label={say('own-task.words')} value={words} onChange={setWords} at="words" needed whole />
        <DayField label={say('own-task.day')} value={day} onChange={setDay} at="day" needed />
      </div>
    </Form>
  );
}
