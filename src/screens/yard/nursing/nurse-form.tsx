import { useState } from 'react';
import { nurseQueens } from '#actions/yard/nurse-queens.ts';
import type { NursedQueen } from '#questions/yard/nursing.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { ChooseQueens } from '../../parts/choose-record.tsx';
import { DayField } from '../../parts/day-words.tsx';
import { ChoiceField, Form, NumberField } from '../../parts/form.tsx';
import { Code, calledOf } from '../../parts/identity-band.tsx';
import { QueenMark } from '../../parts/queen-mark.tsx';
import { tell } from '../../parts/told.tsx';

const forms = ['cage', 'box', 'nuc'] as const;
type Nursed = { queen: string; cage: string };

/** One line: her mark and code, whether she comes along, and the number of her cage. */
function QueenLine({
  queen,
  cage,
  onPut,
}: {
  queen: NursedQueen['queen'];
  cage: string | undefined;
  onPut: (cage: string | undefined) => void;
}) {
  const code = calledOf(queen);
  return (
    <li>
      <label className="tick">
        <input
          type="checkbox"
          checked={cage !== undefined}
          onChange={({ target }) => onPut(target.checked ? '' : undefined)}
        />
        <QueenMark year={queen.year} mark={queen.mark} />
        <Code>{code}</Code>
      </label>
      <input
        type="text"
        className="cage-number code"
        inputMode="numeric"
        aria-label={say('nursing.cage-of', { code })}
        placeholder={say('nursing.cage')}
        disabled={cage === undefined}
        value={cage ?? ''}
        onChange={({ target }) => onPut(target.value)}
      />
    </li>
  );
}

/** Puts queens into nursing: one act for all of them. */
export function NurseForm({ waiting, onDone }: { waiting: readonly NursedQueen[]; onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [form, setForm] = useState<(typeof forms)[number]>('cage');
  const [from, setFrom] = useState<Day | null>(today());
  const [bees, setBees] = useState<number | null>(60);
  const [celsius, setCelsius] = useState<number | null>(null);
  const [others, setOthers] = useState<string[]>([]);
  const [cages, setCages] = useState<Readonly<Record<string, string | undefined>>>(() =>
    Object.fromEntries(waiting.map(({ queen, cage }) => [queen.id, cage ?? ''])),
  );
  const chosen: Nursed[] = [
    ...waiting.flatMap(({ queen }) => {
      const cage = cages[queen.id];
      return cage === undefined ? [] : [{ queen: queen.id, cage }];
    }),
    ...others.map((queen) => ({ queen, cage: '' })),
  ];
  const keep = async () => {
    const input = {
      care: { form, care_from: from ?? today(), attendants_ml: bees, temperature_c: celsius },
      queens: chosen.map(({ queen, cage }) => ({
        queen: queen as RecordId,
        ...(cage.trim() === '' ? {} : { cage_number: cage.trim() }),
      })),
    };
    const did = await run(nurseQueens, input, { happened: true });
    if ('problems' in did) return;
    tell(say('nursing.started', { n: chosen.length }));
    onDone();
  };
  return (
    <Form act={say('nursing.start')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <ChoiceField
        label={say('nursing.form')}
        value={form}
        onChange={setForm}
        choices={forms.map((value) => ({ value, words: sayAny(`nursing.form.${value}`) }))}
      />
      <div className="fields">
        <DayField label={say('nursing.from')} value={from} onChange={setFrom} at="care.care_from" />
        <NumberField
          label={say('nursing.attendants-ml')}
          unit="ml"
          value={bees}
          onChange={setBees}
          at="care.attendants_ml"
        />
        <NumberField
          label={say('nursing.temperature')}
          unit="°C"
          value={celsius}
          onChange={setCelsius}
          at="care.temperature_c"
          hint={say('nursing.temperature-hint')}
        />
      </div>
      {waiting.length === 0 ? null : (
        <fieldset>
          <legend>{say('nursing.queens')}</legend>
          <ul className="nursed-lines">
            {waiting.map(({ queen }) => (
              <QueenLine
                key={queen.id}
                queen={queen}
                cage={cages[queen.id]}
                onPut={(cage) => setCages((before) => ({ ...before, [queen.id]: cage }))}
              />
            ))}
          </ul>
        </fieldset>
      )}
      <ChooseQueens label={say('nursing.add')} values={others} onChange={setOthers} at="queens" />
    </Form>
  );
}
