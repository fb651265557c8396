import type { Rate } from '#domain/lessons/tally.ts';
import type { Factor, LessonsAnswer } from '#questions/yard/lessons.ts';
import { say } from '#words/say.ts';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { factorName, groupName, percent } from './lessons-words.ts';

type Group = LessonsAnswer['lessons']['groups'][number];

const counted = ({ laying, of }: Pick<Rate, 'laying' | 'of'>) => say('lessons.counted', { laying, of });
const range = ({ low, high }: { low: number | null; high: number | null }) =>
  low === null || high === null ? null : `${percent(low)} – ${percent(high)}`;

const columnsFor = (by: Factor): readonly Column<Group>[] => [
  {
    key: 'group',
    label: factorName(by),
    lead: true,
    cell: ({ group }) => <a href={`#behind-${group ?? ''}`}>{groupName(by, group)}</a>,
    by: ({ group }) => group,
  },
  {
    key: 'known',
    label: say('lessons.known'),
    number: true,
    cell: ({ laying, known }) => <strong>{counted({ laying, of: known })}</strong>,
    by: ({ known }) => known,
  },
  { key: 'range', label: say('lessons.range'), number: true, cell: range },
  {
    key: 'inseminated',
    label: say('lessons.inseminated'),
    number: true,
    cell: ({ ofInseminated }) => counted(ofInseminated),
  },
  {
    key: 'alive',
    label: say('lessons.alive'),
    number: true,
    cell: ({ ofAliveAtFirstCheck }) => counted(ofAliveAtFirstCheck),
  },
  { key: 'open', label: say('lessons.not-known'), number: true, cell: ({ open }) => open, by: ({ open }) => open },
  {
    key: 'shrunken',
    label: say('lessons.shrunken'),
    number: true,
    cell: ({ shrunken }) => (shrunken === null ? null : percent(shrunken)),
  },
];

/** The counts of each group with both denominators, in the order of the groups: sorted by number of queens, never by rate. */
export function CountsTable({ groups, by }: { groups: readonly Group[]; by: Factor }) {
  return (
    <>
      <BookTable
        label={say('lessons.table')}
        rows={groups}
        columns={columnsFor(by)}
        rowKey={({ group }) => group ?? ''}
      />
      <p className="note">{say('lessons.shrunken-what')}</p>
    </>
  );
}
