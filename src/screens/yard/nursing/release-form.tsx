import { useState } from 'react';
import { releaseQueens } from '#actions/yard/release-queens.ts';
import type { Home, NursedQueen } from '#questions/yard/nursing.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { DayField } from '../../parts/day-words.tsx';
import { Form, TextField, TickField } from '../../parts/form.tsx';
import { Code, calledOf } from '../../parts/identity-band.tsx';
import { QueenMark } from '../../parts/queen-mark.tsx';
import { tell } from '../../parts/told.tsx';

const DEAD = 'dead';
const STAYS = '';

type ReleaseProps = {
  care?: RecordId;
  queens: readonly NursedQueen[];
  queenless: readonly Home[];
  onDone: () => void;
};

/** Where one queen goes: the nuc she came from, another without a queen, nowhere yet, or she is dead. */
function Line({
  nursed,
  queenless,
  to,
  onTo,
}: {
  nursed: NursedQueen;
  queenless: readonly Home[];
  to: string;
  onTo: (to: string) => void;
}) {
  const { queen, cage, home } = nursed;
  const code = calledOf(queen);
  const others = queenless.filter(({ id }) => id !== home?.id);
  return (
    <li>
      <span className="release-who">
        {cage === null ? null : (
          <span className="cage-big">
            <span className="note">{say('nursing.cage')}</span> <strong className="code">{cage}</strong>
          </span>
        )}
        <QueenMark year={queen.year} mark={queen.mark} />
        <Code>{code}</Code>
      </span>
      <span aria-hidden="true">→</span>
      <select
        aria-label={say('nursing.choose-home', { code })}
        className="home-choice"
        value={to}
        onChange={({ target }) => onTo(target.value)}
      >
        {home === null ? null : <option value={home.id}>{home.code}</option>}
        {others.map(({ id, code: nuc }) => (
          <option key={id} value={id}>
            {nuc}
          </option>
        ))}
        <option value={STAYS}>{say('nursing.stays-nursed')}</option>
        <option value={DEAD}>{say('nursing.dead')}</option>
      </select>
    </li>
  );
}

/** Lets queens out, each into her own nuc: one act, the dead named with it. */
export function ReleaseForm({ care, queens, queenless, onDone }: ReleaseProps) {
  const { run, problems, busy } = useDo();
  const [day, setDay] = useState<Day | null>(today());
  const [method, setMethod] = useState('');
  const [excluder, setExcluder] = useState(true);
  const [to, setTo] = useState<Readonly<Record<string, string>>>(() =>
    Object.fromEntries(queens.map(({ queen, home }) => [queen.id, home?.id ?? STAYS])),
  );
  const going = queens.filter(({ queen }) => ![STAYS, DEAD].includes(to[queen.id] ?? STAYS));
  const dead = queens.filter(({ queen }) => to[queen.id] === DEAD).map(({ queen }) => queen.id as RecordId);
  const keep = async () => {
    const input = {
      ...(care === undefined ? {} : { care }),
      day: day ?? today(),
      excluder,
      ...(method.trim() === '' ? {} : { method }),
      home: going.map(({ queen }) => ({ queen: queen.id as RecordId, colony: to[queen.id] as RecordId })),
      dead,
    };
    const did = await run(releaseQueens, input, { happened: true });
    if ('problems' in did) return;
    tell(say('nursing.released', { n: going.length }));
    onDone();
  };
  return (
    <Form act={say('nursing.release')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <p>{say('nursing.release-lead')}</p>
      <ul className="release-lines">
        {queens.map((nursed) => (
          <Line
            key={nursed.queen.id}
            nursed={nursed}
            queenless={queenless}
            to={to[nursed.queen.id] ?? STAYS}
            onTo={(where) => setTo((before) => ({ ...before, [nursed.queen.id]: where }))}
          />
        ))}
      </ul>
      <div className="fields">
        <DayField label={say('nursing.release-day')} value={day} onChange={setDay} at="day" />
        <TextField
          label={say('colony.method')}
          value={method}
          onChange={setMethod}
          at="method"
          hint={say('colony.method-hint')}
        />
      </div>
      <TickField label={say('colony.excluder')} value={excluder} onChange={setExcluder} />
    </Form>
  );
}
