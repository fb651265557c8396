import { Link } from '@tanstack/react-router';
import type { Nuc } from '#questions/yard/yard-book.ts';
import { isToDecide } from '#questions/yard/yards.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { Code } from '../parts/identity-band.tsx';
import { StateShape } from '../parts/state-sign.tsx';
import { QueenLink } from '../stock/queen-link.tsx';
import { lookWords, nextWords } from './yard-words.ts';

/** What is next, with its sign: half filled when due, barred when something is to be decided. */
function Next({ nuc }: { nuc: Nuc }) {
  if (nuc.next === null) return nuc.head === null ? null : <span className="soft">{nextWords(null)}</span>;
  const due = nuc.next.from <= today();
  return (
    <span className="state-sign">
      <StateShape sign={isToDecide(nuc.next) ? 'late' : due ? 'due' : 'planned'} /> {nextWords(nuc.next)}
    </span>
  );
}

const columns: readonly Column<Nuc>[] = [
  { key: 'spot', label: say('colony.spot'), number: true, cell: ({ spot }) => spot, by: ({ spot }) => spot },
  {
    key: 'code',
    label: say('colony.colony'),
    lead: true,
    cell: ({ id, code }) => (
      <Link to="/yard/colony/$id" params={{ id }}>
        <Code>{code}</Code>
      </Link>
    ),
    by: ({ code }) => code,
  },
  { key: 'form', label: say('colony.form'), cell: ({ form }) => sayAny(`colony.form.${form}`), by: ({ form }) => form },
  {
    key: 'queen',
    label: say('colony.queen'),
    cell: ({ head }) =>
      head === null ? <span className="soft">{say('colony.no-queen')}</span> : <QueenLink queen={head} />,
    by: ({ head }) => head?.code ?? null,
  },
  {
    key: 'last',
    label: say('colony.last'),
    cell: ({ lastLook }) => (lastLook === null ? null : `${lookWords(lastLook)}, ${dayWords(lastLook.day, today())}`),
    by: ({ lastLook }) => lastLook?.day ?? null,
  },
  { key: 'next', label: say('colony.next'), cell: (nuc) => <Next nuc={nuc} />, by: ({ next }) => next?.from ?? null },
];

/** Colonies in walking order, each leading to its leaf. */
export function NucTable({ nucs, label }: { nucs: readonly Nuc[]; label: string }) {
  return <BookTable label={label} rows={nucs} columns={columns} rowKey={({ id }) => id} />;
}
