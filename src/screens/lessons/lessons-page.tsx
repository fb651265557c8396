import '../style/lessons.css';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import type { Rate } from '#domain/lessons/tally.ts';
import { type Factor, type LessonsAnswer, lessons } from '#questions/yard/lessons.ts';
import type { Day } from '#units/calendar-day.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { DayField } from '../parts/day-words.tsx';
import { SelectField } from '../parts/form.tsx';
import { QueensBehind } from './behind.tsx';
import { CountsTable } from './counts-table.tsx';
import { GoesWithLaying } from './goes-with.tsx';
import { Plots, Runs } from './lessons-plots.tsx';
import { factorName, sentence, spreadWords } from './lessons-words.ts';
import { QueensLast } from './queens-last.tsx';
import { Sentences, Together } from './sentences.tsx';

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

type Span = { from?: Day; to?: Day };

function Told({ told, by, span }: { told: LessonsAnswer; by: Factor; span: Span }) {
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
      <GoesWithLaying span={span} />
      <Plots told={told} by={by} />
      <Runs told={told} by={by} />
      <QueensLast />
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
      <Asked query={query}>{(told) => <Told told={told} by={told.lessons.by as Factor} span={span} />}</Asked>
    </section>
  );
}
