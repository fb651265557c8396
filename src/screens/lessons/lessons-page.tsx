import '../style/lessons.css';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { FEW_QUEENS } from '#domain/lessons/funnel.ts';
import type { Rate } from '#domain/lessons/tally.ts';
import { type Comparison, type Factor, type LessonsAnswer, lessons } from '#questions/yard/lessons.ts';
import type { Day } from '#units/calendar-day.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { DayField } from '../parts/day-words.tsx';
import { SelectField } from '../parts/form.tsx';
import { QueensBehind } from './behind.tsx';
import { CountsTable } from './counts-table.tsx';
import { OnsetPlot, SurvivalPlot } from './curve-plots.tsx';
import { FunnelPlot } from './funnel-plot.tsx';
import { factorName, groupName, percent, sentence, spreadWords } from './lessons-words.ts';
import { RunPlot } from './run-plot.tsx';
import { StairsPlot } from './stairs-plot.tsx';
import { StoragePlot } from './storage-plot.tsx';

/** "Tip 3: 7 of 9. All others: 41 of 52. This could easily be luck." Fewer than five queens are counted, not compared. */
function Sentence({ one, by }: { one: Comparison; by: Factor }) {
  const { group, laying, known, othersLaying, othersKnown, luck } = one;
  const what = sentence(groupName(by, group));
  if (known < FEW_QUEENS)
    return (
      <li className="few">
        {say('lessons.point', { what, laying, of: known })} ({say('lessons.few')})
      </li>
    );
  const words = say(`lessons.luck.${luck}`);
  return <li>{say('lessons.sentence', { what, laying, known, othersLaying, othersKnown, luck: words })}</li>;
}

function Sentences({ told, by }: { told: LessonsAnswer; by: Factor }) {
  const known = told.comparisons.filter((one) => one.known > 0);
  if (known.length < 2) return <p>{say('lessons.one-group')}</p>;
  return (
    <>
      <ul className="sentences">
        {known.map((one) => (
          <Sentence key={one.group ?? ''} one={one} by={by} />
        ))}
      </ul>
      <p className="note">{say('lessons.compared', { n: known.length })}</p>
    </>
  );
}

/** Factors that changed together cannot be told apart; it is said before anybody draws a lesson. */
function Together({ told, by }: { told: LessonsAnswer; by: Factor }) {
  return told.together.map(({ group, factor, value, inside, insideOf, outside, outsideOf }) => {
    const named = factor as Factor;
    const words = say('lessons.together', {
      what: groupName(by, group),
      value: groupName(named, value),
      inside,
      insideOf,
      outside,
      outsideOf,
    });
    return (
      <p className="caution note-size" key={`${group} ${factor}`}>
        {sentence(words)}
      </p>
    );
  });
}

const counts = ({ laying, of }: Rate) => ({ laying, of });

function Overall({ overall }: LessonsAnswer['lessons']) {
  const { laying, known, open, ofInseminated, ofAliveAtFirstCheck } = overall;
  return (
    <div className="stack tight">
      <p className="big-count">{say(open > 0 ? 'lessons.overall-open' : 'lessons.overall', { laying, known, open })}</p>
      <p>
        {sentence(spreadWords(overall))}. {say('lessons.of-inseminated', counts(ofInseminated))}.{' '}
        {say('lessons.of-alive', counts(ofAliveAtFirstCheck))}.
      </p>
    </div>
  );
}

/** The run line of each group of five or more, small and side by side; how to read them stands once above. */
function Runs({ told, by }: { told: LessonsAnswer; by: Factor }) {
  const names = new Map(told.behind.map(({ id, queen }) => [id, queen]));
  const runs = told.runs.filter(({ points }) => points.length >= FEW_QUEENS);
  const { runLine } = told.lessons;
  if (runs.length === 0) return null;
  return (
    <section className="stack tight" aria-labelledby="runs">
      <h2 id="runs">{say('lessons.run')}</h2>
      <p className="note">
        {say('lessons.run-summary', {
          acceptable: percent(runLine.acceptable),
          bad: percent(runLine.bad),
          signal: runLine.signal,
        })}
      </p>
      <div className="plots small">
        {runs.map((run) => (
          <RunPlot
            key={run.group ?? ''}
            run={run}
            by={by}
            limits={runLine}
            nameOf={(queen) => names.get(queen) ?? queen}
          />
        ))}
      </div>
    </section>
  );
}

function Plots({ told, by }: { told: LessonsAnswer; by: Factor }) {
  return (
    <div className="plots">
      {told.funnel === null ? null : (
        <section className="stack tight" aria-labelledby="funnel">
          <h2 id="funnel">{say('lessons.funnel')}</h2>
          <FunnelPlot funnel={told.funnel} by={by} />
        </section>
      )}
      <section className="stack tight" aria-labelledby="stairs">
        <h2 id="stairs">{say('lessons.stairs')}</h2>
        <StairsPlot stairs={told.stairs} by={by} />
      </section>
      <section className="stack tight" aria-labelledby="onset">
        <h2 id="onset">{say('lessons.onset')}</h2>
        <OnsetPlot onset={told.lessons.onset} />
      </section>
      <section className="stack tight" aria-labelledby="survival">
        <h2 id="survival">{say('lessons.survival')}</h2>
        <SurvivalPlot survival={told.lessons.survival} lost={told.lost} queens={told.behind.length} />
      </section>
      {told.behind.some(({ storageDays, laying }) => storageDays !== null && laying !== null) ? (
        <section className="stack tight" aria-labelledby="storage">
          <h2 id="storage">{say('lessons.storage')}</h2>
          <StoragePlot behind={told.behind} />
        </section>
      ) : null}
    </div>
  );
}

function Told({ told, by }: { told: LessonsAnswer; by: Factor }) {
  const { overall } = told.lessons;
  if (overall.queens === 0)
    return (
      <section className="empty">
        <p>{say('lessons.empty')}</p>
        <p>{say('lessons.empty-act')}</p>
        <Link to="/bench" className="button main">
          {say('place.bench')}
        </Link>
      </section>
    );
  if (overall.known === 0)
    return (
      <section className="empty">
        <h2>{say('lessons.no-ends')}</h2>
        <p>{say('lessons.no-ends-what', { n: overall.queens })}</p>
        <Link to="/yard/round" className="button main">
          {say('lessons.to-round')}
        </Link>
      </section>
    );
  return (
    <>
      <Overall {...told.lessons} />
      <section className="stack tight" aria-label={factorName(by)}>
        <Sentences told={told} by={by} />
        <Together told={told} by={by} />
      </section>
      <section className="stack tight" aria-labelledby="counts">
        <h2 id="counts">{say('lessons.table')}</h2>
        <CountsTable groups={told.lessons.groups} by={by} />
      </section>
      <Plots told={told} by={by} />
      <Runs told={told} by={by} />
      <QueensBehind behind={told.behind} by={by} />
    </>
  );
}

const KEPT = 'combwright.lessons-by';

/** Lessons: of the queens inseminated, how many lay, by anything written down, and what is only luck. */
export function LessonsPage() {
  const [by, setBy] = useState<Factor>(() => (localStorage.getItem(KEPT) as Factor | null) ?? 'operator');
  const [from, setFrom] = useState<Day | null>(null);
  const [to, setTo] = useState<Day | null>(null);
  const span = { ...(from === null ? {} : { from }), ...(to === null ? {} : { to }) };
  const query = useAsk(lessons, { today: today(), by, ...span });
  const offered = query.data?.offered ?? [];
  const choices = (offered.includes(by) ? offered : [by, ...offered]).map((value) => ({
    value,
    words: factorName(value),
  }));
  return (
    <section className="stack wide">
      <div className="stack tight">
        <h1>{say('lessons.title')}</h1>
        <p>{say('lessons.lead')}</p>
      </div>
      <div className="form">
        <div className="fields">
          <SelectField
            label={say('lessons.by')}
            value={by}
            onChange={(factor) => {
              localStorage.setItem(KEPT, factor);
              setBy(factor);
            }}
            choices={choices}
          />
          <DayField label={say('lessons.from')} value={from} onChange={setFrom} />
          <DayField label={say('lessons.to')} value={to} onChange={setTo} />
        </div>
      </div>
      <Asked query={query}>{(told) => <Told told={told} by={told.lessons.by as Factor} />}</Asked>
    </section>
  );
}
