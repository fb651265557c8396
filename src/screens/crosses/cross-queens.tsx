import type { CrossQueen } from '#questions/crosses/cross-queens.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { figure } from '#words/queen-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { LivingState } from '../parts/identity-band.tsx';
import { StateSign } from '../parts/state-sign.tsx';
import { QueenLink } from '../stock/queen-link.tsx';

function Inseminated({ queen }: { queen: CrossQueen }) {
  const last = queen.inseminations.at(-1);
  if (last === undefined) return null;
  if (!last.done) return <span>{say('cross.not-done', { why: sayAny(`not-done.${last.why ?? 'other'}`) })}</span>;
  const went = last.exceptions.map((kind) => sayAny(`exception.${kind}`)).join(', ');
  return (
    <span>
      {last.day === null ? '' : `${dayWords(last.day, today())} `}
      {last.ul === null ? '' : `${figure(last.ul, 1)} µl`}
      {went === '' ? '' : ` · ${went}`}
    </span>
  );
}

function Checked({ queen }: { queen: CrossQueen }) {
  return (
    <span className="checks-dots">
      {queen.looks.map(({ day, verdict }) => (
        <span key={`${day} ${verdict}`}>
          {dayWords(day, today())}: {sayAny(`verdict.${verdict}`)}
        </span>
      ))}
    </span>
  );
}

function Laying({ queen }: { queen: CrossQueen }) {
  const { laying } = queen.record;
  if (laying === null) return <StateSign sign="planned" words={say('laying.not-known')} />;
  return laying === 'yes' ? (
    <StateSign sign="done" words={say('laying.yes')} />
  ) : (
    <StateSign sign="cancelled" words={say('laying.no')} />
  );
}

const columnsOn = (day: Day | null): Column<CrossQueen>[] => [
  {
    key: 'code',
    label: say('cross.queen'),
    lead: true,
    by: ({ face }) => face.code ?? face.called,
    cell: ({ face }) => <QueenLink queen={face} />,
  },
  {
    key: 'age',
    label: say('cross.age-on-day'),
    number: true,
    by: ({ emerged }) => emerged,
    cell: ({ emerged }) =>
      emerged === null || day === null ? null : say('cross.days-old', { n: daysBetween(emerged, day) }),
  },
  {
    key: 'living',
    label: say('choosing.living'),
    by: ({ face }) => face.living,
    cell: ({ face }) => <LivingState living={face.living} />,
  },
  {
    key: 'inseminated',
    label: say('cross.inseminated'),
    cell: (queen) => (queen.inseminations.length === 0 ? null : <Inseminated queen={queen} />),
  },
  {
    key: 'looks',
    label: say('cross.looks'),
    cell: (queen) => (queen.looks.length === 0 ? null : <Checked queen={queen} />),
  },
  {
    key: 'laying',
    label: say('cross.laying'),
    by: ({ record }) => record.laying,
    cell: (queen) => (queen.inseminations.some(({ done }) => done) ? <Laying queen={queen} /> : null),
  },
];

/** The queens raised for a cross or inseminated in it, and what was seen of each since. */
export function CrossQueens({ queens, day }: { queens: readonly CrossQueen[]; day: Day | null }) {
  return (
    <section className="stack tight">
      <h2>{say('cross.queens')}</h2>
      {queens.length === 0 ? (
        <p className="soft">{say('cross.no-queens')}</p>
      ) : (
        <BookTable label={say('cross.queens')} rows={queens} columns={columnsOn(day)} rowKey={({ face }) => face.id} />
      )}
    </section>
  );
}
