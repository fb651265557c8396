import '../../style/worth.css';
import { Link } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { type SeasonLine, type SeasonRecords, seasonRecordsOf } from '#questions/yard/season-records.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { BookTable, type Column } from '../../parts/book-table.tsx';
import { shortDay } from '../../parts/day-words.tsx';
import { SelectField } from '../../parts/form.tsx';
import { Code } from '../../parts/identity-band.tsx';
import { QueenLink } from '../../stock/queen-link.tsx';
import { figureOf, traitName, valueWords } from '../scores/traits.ts';
import { YardNav } from '../yard-nav.tsx';
import { YardYearPlot } from './yard-year-plot.tsx';

const traitColumn = (trait: string): Column<SeasonLine> => ({
  key: trait,
  label: traitName(trait),
  number: true,
  by: ({ traits }) => traits.find((each) => each.trait === trait)?.value ?? null,
  cell: ({ traits }) => {
    const found = traits.find((each) => each.trait === trait);
    if (found === undefined) return null;
    const { value, readings, enough } = found;
    return (
      <>
        {figureOf(trait, value)}{' '}
        <span className="note">
          {readings < enough ? say('records.of-few', { n: readings, enough }) : say('records.of', { n: readings })}
        </span>
      </>
    );
  },
});

const columnsFor = (traits: readonly string[]): Column<SeasonLine>[] => [
  {
    key: 'queen',
    label: say('records.queen'),
    lead: true,
    by: ({ code }) => code,
    cell: ({ queen, code }) => (queen === null ? code : <QueenLink queen={queen} />),
  },
  {
    key: 'level',
    label: say('records.yard-year'),
    by: ({ year, yard }) => `${year} ${yard.name}`,
    cell: ({ year, yard }) => `${yard.name} ${year}`,
  },
  ...traits.map(traitColumn),
];

/** What stands against comparing: colonies alone, yard-years without a family in common, each with what to do. */
function Joined({ alone, sets }: Pick<SeasonRecords, 'alone' | 'sets'>) {
  return (
    <section className="stack tight" aria-labelledby="joined">
      <h2 id="joined">{say('records.comparable')}</h2>
      {alone.length === 0 ? null : (
        <p className="doubtful">{say('records.alone', { n: alone.length, names: alone.join(', ') })}</p>
      )}
      {sets.length > 1 ? (
        <>
          <p className="doubtful">{say('records.apart', { n: sets.length })}</p>
          <ol>
            {sets.map((set) => (
              <li key={set.join()}>{set.join(', ')}</li>
            ))}
          </ol>
          <p>{say('records.apart-advice')}</p>
        </>
      ) : (
        <p>{say('records.joined')}</p>
      )}
    </section>
  );
}

function LeftOut({ leftOut }: Pick<SeasonRecords, 'leftOut'>) {
  if (leftOut.length === 0) return null;
  return (
    <section className="stack tight" aria-labelledby="left-out">
      <h2 id="left-out">{say('records.left-out')}</h2>
      {leftOut.map(({ why, readings }) => (
        <details key={why} className="behind">
          <summary>
            {sayAny(`records.why.${why}`)}: {say('records.readings', { n: readings.length })}
          </summary>
          <ul>
            {readings.slice(0, 200).map(({ id, trait, value, day, colony, code }) => (
              <li key={id}>
                {colony === null ? null : (
                  <Link to="/yard/colony/$id" params={{ id: colony.id }}>
                    <Code>{colony.code}</Code>
                  </Link>
                )}{' '}
                {code ?? ''} {traitName(trait)} {value === null ? '' : valueWords(trait, value)}, {shortDay(day)}
              </li>
            ))}
          </ul>
        </details>
      ))}
    </section>
  );
}

function Records(told: SeasonRecords) {
  const { records, traits } = told;
  const [chosen, setTrait] = useState('');
  const trait = traits.includes(chosen) ? chosen : (traits[0] ?? '');
  const columns = useMemo(() => columnsFor(traits), [traits]);
  return (
    <>
      <div className="form">
        <SelectField
          label={say('records.trait')}
          value={trait}
          onChange={setTrait}
          choices={traits.map((value) => ({ value, words: traitName(value) }))}
        />
      </div>
      <YardYearPlot records={records} trait={trait} />
      <Joined {...told} />
      <LeftOut leftOut={told.leftOut} />
      <section className="stack tight" aria-labelledby="all-records">
        <h2 id="all-records">{say('records.all')}</h2>
        <BookTable label={say('records.all')} rows={records} columns={columns} rowKey={({ id }) => id} />
      </section>
      <p>
        <Link to="/stock/worth" className="button">
          {say('records.to-worth')}
        </Link>
      </p>
    </>
  );
}

/** Seasons: what readings come to by queen and yard-year, who is compared with whom, and what is left out and why. */
export function RecordsPage() {
  const query = useAsk(seasonRecordsOf, { today: today() });
  return (
    <section className="stack">
      <h1>{say('records.title')}</h1>
      <YardNav />
      <p className="page-lead">{say('records.lead')}</p>
      <Asked query={query}>
        {(told) =>
          told.records.length === 0 ? (
            <section className="empty">
              <p>{say('records.empty')}</p>
              <p>{say('records.empty-act')}</p>
              <Link to="/yard/scores" className="button main">
                {say('yard.scores')}
              </Link>
              <LeftOut leftOut={told.leftOut} />
            </section>
          ) : (
            <Records {...told} />
          )
        }
      </Asked>
    </section>
  );
}
