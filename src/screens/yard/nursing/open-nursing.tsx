import { useState } from 'react';
import { foundDeadInCare } from '#actions/yard/found-dead.ts';
import type { Home, NursedQueen, Nursing } from '#questions/yard/nursing.ts';
import type { Day } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { BookTable, type Column } from '../../parts/book-table.tsx';
import { DayField } from '../../parts/day-words.tsx';
import { Form, TextField } from '../../parts/form.tsx';
import { Code } from '../../parts/identity-band.tsx';
import { StateShape } from '../../parts/state-sign.tsx';
import { tell } from '../../parts/told.tsx';
import { QueenLink } from '../../stock/queen-link.tsx';
import { ReleaseForm } from './release-form.tsx';

const signs = { nursed: 'running', dead: 'cancelled', out: 'done' } as const;

const columns: readonly Column<NursedQueen>[] = [
  {
    key: 'cage',
    label: say('nursing.cage'),
    lead: true,
    cell: ({ cage }) => <span className="code">{cage ?? '–'}</span>,
    by: ({ cage }) => cage,
  },
  {
    key: 'queen',
    label: say('colony.queen'),
    cell: ({ queen }) => <QueenLink queen={queen} />,
    by: ({ queen }) => queen.code,
  },
  {
    key: 'home',
    label: say('nursing.home'),
    cell: ({ home }) =>
      home === null ? (
        <span className="soft">{say('nursing.no-home')}</span>
      ) : (
        <strong>
          <Code>{home.code}</Code> <span className="soft">{home.yard}</span>
        </strong>
      ),
    by: ({ home }) => home?.code ?? null,
  },
  {
    key: 'state',
    label: say('nursing.state'),
    cell: ({ state }) => (
      <span className="state-sign">
        <StateShape sign={signs[state]} /> {sayAny(`nursing.state.${state}`)}
      </span>
    ),
    by: ({ state }) => state,
  },
];

/** The dead of this nursing, picked by the numbers of their cages. */
function DeadForm({ care, onDone }: { care: Nursing; onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [typed, setTyped] = useState('');
  const [day, setDay] = useState<Day | null>(today());
  const keep = async () => {
    const cages = typed.split(/[\s,;]+/).filter((each) => each !== '');
    const did = await run(foundDeadInCare, { care: care.id, cages, day: day ?? today() }, { happened: true });
    if ('problems' in did) return;
    tell(say('nursing.dead-kept', { n: cages.length }));
    onDone();
  };
  return (
    <Form act={say('nursing.dead-keep')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <div className="fields">
        <TextField
          label={say('nursing.dead-cages')}
          value={typed}
          onChange={setTyped}
          at="cages"
          hint={say('nursing.dead-hint')}
          code
          needed
        />
        <DayField label={say('colony.end-on')} value={day} onChange={setDay} at="day" />
      </div>
    </Form>
  );
}

/** One nursing that has not ended: who sits where and goes home to which nuc; let out, or found dead. */
export function OpenNursing({ care, queenless }: { care: Nursing; queenless: readonly Home[] }) {
  const [open, setOpen] = useState<'dead' | 'release' | null>(null);
  const nursed = care.queens.filter(({ state }) => state === 'nursed');
  return (
    <section className="stack" aria-labelledby={care.id}>
      <div className="spread">
        <h2 id={care.id}>{say('nursing.open', { day: dayWords(care.care_from, today()) })}</h2>
        <span className="cluster soft">
          <span>{sayAny(`nursing.form.${care.form}`)}</span>
          {care.attendants_ml === null ? null : <span>{say('nursing.kept', { ml: care.attendants_ml })}</span>}
          {care.temperature_c === null ? null : <span>{say('nursing.at', { degrees: care.temperature_c })}</span>}
        </span>
      </div>
      <div className="cluster">
        <button type="button" className="button main" onClick={() => setOpen('release')}>
          {say('nursing.release')}
        </button>
        <button type="button" className="button" onClick={() => setOpen('dead')}>
          {say('nursing.dead')}
        </button>
      </div>
      {open === 'release' ? (
        <ReleaseForm care={care.id} queens={nursed} queenless={queenless} onDone={() => setOpen(null)} />
      ) : null}
      {open === 'dead' ? <DeadForm care={care} onDone={() => setOpen(null)} /> : null}
      {open === 'release' ? null : (
        <BookTable
          label={say('nursing.queens')}
          rows={care.queens}
          columns={columns}
          rowKey={({ queen }) => queen.id}
          initial={{ key: 'cage', down: false }}
        />
      )}
    </section>
  );
}
