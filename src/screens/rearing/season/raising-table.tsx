import { Link } from '@tanstack/react-router';
import type { ShownRaising } from '#questions/rearing/season/season-days.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { today } from '../../link/this-device.ts';
import { BookTable, type Column } from '../../parts/book-table.tsx';
import { Code } from '../../parts/identity-band.tsx';
import { spanWords } from '../../today/task-words.ts';
import { listWords } from './season-words.ts';

const MOST_NAMED = 3;

function What({ raising }: { raising: ShownRaising }) {
  const { side, record, mother, amount } = raising;
  const count = say(side === 'queens' ? 'task.larvae' : 'task.combs', { n: amount });
  return (
    <span className="who-she-is">
      <span>
        {record === null ? (
          <strong>{mother}</strong>
        ) : side === 'queens' ? (
          <Link to="/rearing/graft/$graft" params={{ graft: record.id }}>
            <Code>{record.code}</Code>
          </Link>
        ) : (
          <Link to="/rearing/comb/$comb" params={{ comb: record.id }}>
            <Code>{record.code}</Code>
          </Link>
        )}{' '}
        {count}
      </span>
      <span className="note">
        {record === null ? '' : `${mother} · `}
        {listWords(raising.crosses.map(({ code }) => say('cross.named', { code })))}
      </span>
    </span>
  );
}

/** What became of it beside the plan: days late or early, accepted, out. */
function Became({ raising }: { raising: ShownRaising }) {
  const { actual, later, accepted, emerged, amount, side, overdue } = raising;
  const facts = [
    actual !== null ? dayWords(actual, today()) : say(overdue ? 'season.not-written' : 'season.to-come'),
    later === 0 || (actual === null && !overdue)
      ? null
      : say(later > 0 ? 'season.days-late' : 'season.days-early', { n: Math.abs(later) }),
    accepted === null ? null : say('season.accepted-of', { n: accepted, of: amount }),
    side === 'queens' && emerged > 0 ? say('bar.hatched', { n: emerged }) : null,
  ].filter((words) => words !== null);
  return <span>{facts.join(' · ')}</span>;
}

/** Tasks that moved with it: each with where it was and where it is. */
function MovedTasks({ raising }: { raising: ShownRaising }) {
  const moved = raising.moved.filter(({ was, now }) => was !== null && now !== null);
  if (moved.length === 0) return null;
  return (
    <ul className="plain moved-tasks">
      {moved.slice(0, MOST_NAMED).map(({ key, was, now }) => (
        <li key={key}>
          {taskWords({ key, words: null, queens: 0 }).split('. ')[0]?.replace(/\.$/, '')}:{' '}
          <s className="soft">{was === null ? '' : spanWords(was.from, was.to)}</s>{' '}
          <strong>{now === null ? '' : spanWords(now.from, now.to)}</strong>
        </li>
      ))}
    </ul>
  );
}

const columns = (): Column<ShownRaising>[] => [
  { key: 'what', label: say('season.what'), lead: true, cell: (raising) => <What raising={raising} /> },
  {
    key: 'planned',
    label: say('season.planned'),
    by: ({ planned }) => planned,
    cell: ({ planned }) => dayWords(planned, today()),
  },
  { key: 'became', label: say('season.became'), cell: (raising) => <Became raising={raising} /> },
  {
    key: 'ripe',
    label: say('rearing.best-age'),
    by: ({ life }) => life.ripe,
    cell: ({ life }) => <strong>{spanWords(life.ripe, life.ripeTo)}</strong>,
  },
  {
    key: 'moved',
    label: say('season.moved'),
    cell: (raising) => (raising.moved.length === 0 ? null : <MovedTasks raising={raising} />),
  },
];

/** Every bar and comb of the season: planned, and what became of it, with the tasks that moved. */
export function RaisingTable({ raising }: { raising: readonly ShownRaising[] }) {
  if (raising.length === 0) return null;
  return (
    <details className="raising-table">
      <summary>{say('season.raising-table')}</summary>
      <BookTable
        label={say('season.raising-table')}
        rows={raising}
        columns={columns()}
        rowKey={({ id, side }) => `${side} ${id}`}
      />
    </details>
  );
}
