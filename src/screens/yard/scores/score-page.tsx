import '../../style/round.css';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { type ScoreCards, type ScoredNuc, scoreCards, type TodaysVisit } from '#questions/yard/score-cards.ts';
import { say, sayAny } from '#words/say.ts';
import { viewing } from '../../bench/board/legibility.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { Code } from '../../parts/identity-band.tsx';
import { StateShape } from '../../parts/state-sign.tsx';
import { QueenLink } from '../../stock/queen-link.tsx';
import { Caution } from '../cautions.tsx';
import { StepBackBar } from '../round/step-back-bar.tsx';
import { YardNav } from '../yard-nav.tsx';
import { isKeptToday, ScoreCard } from './score-card.tsx';
import { figureOf, traitName } from './traits.ts';
import { useCards } from './use-cards.ts';
import { ConditionWarnings, ReadsField, TestCautions, useReads, VisitForm } from './visit-form.tsx';

/** This year's means inside one yard, of the colonies whose card of today is kept: nobody copies an earlier score. */
function YearTable({ nucs }: { nucs: readonly ScoredNuc[] }) {
  const kept = nucs.filter((nuc) => nuc.today.length > 0);
  if (kept.length === 0) return null;
  return (
    <section className="stack tight" aria-labelledby="year">
      <h2 id="year">{say('score.table')}</h2>
      <p className="note">{say('score.compare')}</p>
      <ul className="walked">
        {kept.map(({ id, code, head, year }) => (
          <li key={id}>
            <Link to="/yard/colony/$id" params={{ id }}>
              <Code>{code}</Code>
            </Link>
            {head === null ? null : <QueenLink queen={head} />}
            <span>
              {year
                .map(
                  ({ trait, mean, n }) =>
                    `${traitName(trait)} ${say('score.year', { value: figureOf(trait, mean), n })}`,
                )
                .join(', ')}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

const stateOf = (nuc: ScoredNuc) => {
  if (nuc.open.some(({ begun }) => begun < today())) return { sign: 'due', words: 'score.test-waits' } as const;
  return isKeptToday(nuc)
    ? ({ sign: 'done', words: 'score.done' } as const)
    : ({ sign: 'planned', words: 'score.waits' } as const);
};

type WalkProps = { nucs: readonly ScoredNuc[]; visit: TodaysVisit; yard: string };

/** The walk through a yard: one card after the other, what is read in reach, the last card stepped back by one press. */
function Walk({ nucs, visit, yard }: WalkProps) {
  const cards = useCards(nucs);
  const [reads, onReads] = useReads();
  const nuc = nucs[cards.at];
  const words = [visit.weather === null ? '' : sayAny(`score.weather.${visit.weather}`)].filter(Boolean).join(', ');
  return (
    <div className="two-columns">
      <div className="stack round score-walk">
        <p className="round-at">
          {say('score.at', { n: cards.at + 1, of: nucs.length, yard })}
          {words === '' ? '' : ` · ${words}`}
        </p>
        <ConditionWarnings {...visit} />
        {nuc === undefined ? null : (
          <ScoreCard
            key={nuc.id}
            nuc={nuc}
            visit={visit.id}
            person={visit.person ?? ''}
            reads={reads}
            onKept={(kept) => cards.keep(nuc, kept)}
          />
        )}
        <StepBackBar
          walk={{ kept: cards.kept, at: cards.at, nucs: { length: nucs.length - 1 }, go: cards.go }}
          onBack={cards.back}
          busy={cards.busy}
        />
      </div>
      <section className="stack" aria-label={say('score.list')}>
        <ul className="walked">
          {nucs.map((each) => (
            <li key={each.id}>
              <StateShape sign={stateOf(each).sign} />
              <button
                type="button"
                className="button quiet"
                aria-current={each.id === nuc?.id ? 'true' : undefined}
                onClick={() => cards.choose(each.id)}
              >
                <Code>{each.code}</Code>
              </button>
              <span className="soft">{say(stateOf(each).words)}</span>
            </li>
          ))}
        </ul>
        <YearTable nucs={nucs} />
        <details className="score-card">
          <summary>{say('score.read')}</summary>
          <ReadsField reads={reads} onReads={onReads} />
        </details>
        <TestCautions reads={reads} />
      </section>
    </div>
  );
}

function Cards({ nucs, people, visits }: ScoreCards) {
  const yards = [
    ...new Map(nucs.flatMap(({ yard }) => (yard === null ? [] : [[yard.id as string, yard] as const]))).values(),
  ];
  const [yard, setYard] = useState<string>(visits.at(-1)?.yard ?? yards[0]?.id ?? '');
  const [reads, onReads] = useReads();
  const visit = visits.findLast((each) => each.yard === yard);
  const here = nucs.filter((nuc) => nuc.yard?.id === yard);
  if (visit === undefined)
    return <VisitForm yards={yards} yard={yard} onYard={setYard} people={people} reads={reads} onReads={onReads} />;
  return (
    <>
      {yards.length < 2 ? null : (
        <div className="cluster" role="group" aria-label={say('colony.yard')}>
          {yards.map(({ id, name }) => (
            <button key={id} type="button" className="button" aria-pressed={id === yard} onClick={() => setYard(id)}>
              {name}
            </button>
          ))}
        </div>
      )}
      <Walk key={visit.id} nucs={here} visit={visit} yard={here[0]?.yard?.name ?? ''} />
    </>
  );
}

function Empty() {
  return (
    <section className="empty">
      <p>{say('score.empty')}</p>
      <p>{say('score.empty-act')}</p>
      <Link to="/yard/new-colony" className="button main">
        {say('yard.new-colony')}
      </Link>
    </section>
  );
}

/** Score cards: a visit to a yard, then one colony after the other, trait words with a sentence for each number. */
export function ScoresPage() {
  const query = useAsk(scoreCards, { today: today() });
  return (
    <section
      className="stack round-page"
      style={{ '--mm': `${viewing().pixelsPerMillimetre}px` } as React.CSSProperties}
    >
      <h1>{say('score.title')}</h1>
      <YardNav />
      <p className="page-lead">{say('score.lead')}</p>
      <Asked query={query}>
        {({ nucs, ...told }) => {
          const scored = nucs.filter(({ head, yard }) => head !== null && yard !== null);
          return scored.length === 0 ? <Empty /> : <Cards nucs={scored} {...told} />;
        }}
      </Asked>
      <Caution of="stings" />
    </section>
  );
}
