import { Link, useNavigate } from '@tanstack/react-router';
import { useMemo } from 'react';
import {
  type BarInSeason,
  type CombInSeason,
  type CrossInSeason,
  type Season,
  season,
} from '#questions/rearing/season.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { dayAndDistance, stageSign, stageWords } from '../crosses/cross-words.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { Code } from '../parts/identity-band.tsx';
import { PrintMenu } from '../parts/print-menu.tsx';
import { StateSign } from '../parts/state-sign.tsx';
import { useKeys } from '../shell/keys.ts';
import { spanWords } from '../today/task-words.ts';
import { RearingNav } from './rearing-nav.tsx';

const noCount = { raised: 0, inseminated: 0, known: 0, laying: 0 };

function RaisedFor({ cross }: { cross: CrossInSeason }) {
  const { next } = cross;
  return (
    <li className="raised-for">
      <Link to="/rearing/countback/$cross" params={{ cross: cross.id }}>
        {say('cross.title', { code: cross.code })}
      </Link>
      <strong>{cross.day === null ? say('cross.no-day') : dayAndDistance(cross.day)}</strong>
      <span>{say('rearing.queens', { n: cross.wanted })}</span>
      <StateSign sign={stageSign(cross.stage)} words={stageWords(cross.stage, noCount)} />
      {next === null ? null : (
        <span className="next">
          <span className="soft">{next.late ? say('cross.next-late') : say('cross.next')}</span>{' '}
          {dayWords(next.from, today())}: {taskWords({ ...next, queens: cross.wanted })}
        </span>
      )}
    </li>
  );
}

function GraftToday({ graftToday }: Pick<Season, 'graftToday'>) {
  const { ofAge, combs } = graftToday;
  return (
    <p className="graft-today">
      {say('rearing.graft-today', { days: spanWords(ofAge.from, ofAge.to) })}{' '}
      {combs.length === 0 ? (
        <strong>{say('rearing.graft-today-none')}</strong>
      ) : (
        <>
          {say('rearing.graft-today-ripe')}{' '}
          {combs.map(({ id, code, who }) => (
            <Link key={id} to="/rearing/comb/$comb" params={{ comb: id }}>
              {code} ({who}){' '}
            </Link>
          ))}
        </>
      )}
    </p>
  );
}

const counted = (words: string, isSeen: boolean) => (isSeen ? words : say('rearing.counted', { days: words }));

const forCross = (code: string | null): string | null => (code === null ? null : say('cross.named', { code }));

/** What stands below a code, small. */
function Beside({ words }: { words: readonly (string | null)[] }) {
  const known = words.filter((word) => word !== null);
  return known.length === 0 ? null : <span className="note">{known.join(' · ')}</span>;
}

const combColumns = (): Column<CombInSeason>[] => [
  {
    key: 'code',
    label: say('rearing.comb'),
    lead: true,
    by: ({ code }) => code,
    cell: ({ id, code, where, crossCode }) => (
      <span className="who-she-is">
        <Link to="/rearing/comb/$comb" params={{ comb: id }}>
          <Code>{code}</Code>
        </Link>
        <Beside words={[where, forCross(crossCode)]} />
      </span>
    ),
  },
  { key: 'who', label: say('rearing.drone-mother'), by: ({ who }) => who, cell: ({ who }) => who || null },
  {
    key: 'emerged',
    label: say('rearing.drones-emerge'),
    by: ({ emerged }) => emerged?.from ?? null,
    cell: ({ emerged }) => (emerged === null ? null : counted(spanWords(emerged.from, emerged.to), emerged.seen)),
  },
  {
    key: 'ripe',
    label: say('rearing.best-age'),
    by: ({ ripe }) => ripe?.from ?? null,
    cell: ({ ripe }) => (ripe === null ? null : <strong>{spanWords(ripe.from, ripe.to)}</strong>),
  },
  {
    key: 'usable',
    label: say('rearing.usable-to'),
    by: ({ usableTo }) => usableTo,
    cell: ({ usableTo }) => (usableTo === null ? null : dayWords(usableTo, today())),
  },
];

const barColumns = (): Column<BarInSeason>[] => [
  {
    key: 'code',
    label: say('rearing.bar'),
    lead: true,
    by: ({ code }) => code,
    cell: ({ id, code, crossCode }) => (
      <span className="who-she-is">
        <Link to="/rearing/graft/$graft" params={{ graft: id }}>
          <Code>{code}</Code>
        </Link>
        <Beside words={[forCross(crossCode)]} />
      </span>
    ),
  },
  {
    key: 'dams',
    label: say('rearing.whose-cells'),
    cell: ({ ranges }) => ranges.map(({ from, to, dam }) => `${from}–${to} ${dam}`).join(', '),
  },
  {
    key: 'grafted',
    label: say('rearing.grafted'),
    by: ({ day }) => day,
    cell: ({ day, cells }) => say('rearing.grafted-on', { n: cells.grafted, day: dayWords(day, today()) }),
  },
  {
    key: 'accepted',
    label: say('rearing.accepted'),
    number: true,
    by: ({ cells }) => cells.accepted,
    cell: ({ cells }) => (cells.accepted === null ? null : say('rearing.of', { n: cells.accepted, of: cells.grafted })),
  },
  {
    key: 'earliest',
    label: say('rearing.earliest'),
    by: ({ earliest }) => earliest,
    cell: ({ earliest, emerged }) =>
      emerged.seen ? say('rearing.out', { day: dayWords(emerged.from, today()) }) : dayWords(earliest, today()),
  },
  {
    key: 'ripe',
    label: say('rearing.best-age'),
    by: ({ ripe }) => ripe.from,
    cell: ({ ripe }) => <strong>{spanWords(ripe.from, ripe.to)}</strong>,
  },
];

/** Lanes as they will look, with no day of any year. */
const DrawnLanes = () => (
  <svg viewBox="0 0 320 110" className="drawing wide" aria-hidden="true">
    <rect x="196" y="8" width="44" height="96" className="meets" />
    <path d="M218 4v102" className="heavy" />
    <path d="M12 32h110" className="heavy" />
    <path d="M122 23h44v18h-44ZM126 40l14-16M138 40l14-16M150 40l14-16" />
    <path d="M166 23h90v18h-90Z" className="filled" />
    <path d="M256 23h46v18h-46Z" />
    <path d="M92 82h82" className="heavy" />
    <path d="M174 73h22v18h-22ZM178 90l14-16" />
    <path d="M196 73h44v18h-44Z" className="filled" />
    <path d="M240 73h40v18h-40Z" />
  </svg>
);

function NothingRaised() {
  return (
    <section className="empty">
      <p>{say('rearing.empty')}</p>
      <DrawnLanes />
      <Link to="/crosses/start" className="button main">
        {say('cross.start')}
      </Link>
    </section>
  );
}

function SeasonOf({ answer }: { answer: Season }) {
  const { crosses, combs, bars, virgins, graftToday } = answer;
  if (crosses.length + combs.length + bars.length + virgins.waiting === 0) return <NothingRaised />;
  return (
    <>
      <section className="stack tight">
        <h2>{say('rearing.raised-for')}</h2>
        {crosses.length === 0 ? <p className="soft">{say('rearing.no-crosses')}</p> : null}
        <ul className="raised-list">
          {crosses.map((cross) => (
            <RaisedFor key={cross.id} cross={cross} />
          ))}
        </ul>
      </section>
      <GraftToday graftToday={graftToday} />
      <section className="stack tight">
        <div className="spread">
          <h2>{say('rearing.combs')}</h2>
          <Link to="/rearing/comb/new" className="button">
            {say('rearing.new-comb')}
          </Link>
        </div>
        {combs.length === 0 ? (
          <p className="soft">{say('rearing.no-combs')}</p>
        ) : (
          <BookTable label={say('rearing.combs')} rows={combs} columns={combColumns()} rowKey={({ id }) => id} />
        )}
      </section>
      <section className="stack tight">
        <div className="spread">
          <h2>{say('rearing.bars')}</h2>
          <Link to="/rearing/graft/new" className="button">
            {say('rearing.new-bar')} <kbd>N</kbd>
          </Link>
        </div>
        {bars.length === 0 ? (
          <p className="soft">{say('rearing.no-bars')}</p>
        ) : (
          <BookTable label={say('rearing.bars')} rows={bars} columns={barColumns()} rowKey={({ id }) => id} />
        )}
      </section>
      {virgins.waiting === 0 ? null : (
        <p>
          <Link to="/rearing/virgins">
            {say('rearing.virgins-wait', { n: virgins.waiting, without: virgins.withoutCo2 })}
          </Link>
        </p>
      )}
    </>
  );
}

const papers = () => [
  { words: say('print.wall'), paper: 'season-wall-sheet', input: { today: today() } },
  { words: say('print.bar-tags'), paper: 'bar-tags', input: { today: today() } },
  { words: say('print.comb-pins'), paper: 'comb-pins', input: { today: today() } },
  { words: say('print.door'), paper: 'incubator-list', input: { today: today() } },
];

/** What is being raised: crosses, drone combs, bars, virgins, and what a graft today would meet. */
export function RearingPage() {
  const navigate = useNavigate();
  const query = useAsk(season, { today: today() });
  useKeys(useMemo(() => ({ N: () => void navigate({ to: '/rearing/graft/new' }) }), [navigate]));
  return (
    <section className="stack">
      <h1>{say('place.rearing')}</h1>
      <RearingNav />
      <PrintMenu papers={papers()} />
      <Asked query={query}>{(answer) => <SeasonOf answer={answer} />}</Asked>
    </section>
  );
}
