import '../style/bench.css';
import { Link, useParams } from '@tanstack/react-router';
import { benchSummary, type DoneQueen } from '#questions/bench/bench-summary.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { dayWords } from '../parts/day-words.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { CloseDay } from './put-away/close-day.tsx';
import { CrossSummary } from './put-away/cross-summary.tsx';
import { FlagRow, HomeRow, StopRow, WorryRow } from './put-away/open-rows.tsx';
import { ScanHome } from './put-away/scan-home.tsx';
import { TwoReadingsRow } from './put-away/two-readings.tsx';

const isUnexplained = ({ exceptions }: DoneQueen): boolean =>
  exceptions.some(({ kind, words }) => kind === 'flagged' && words === null);

/** Putting the bench away: what is still open, the day in numbers, tubes measured again, the day closed. */
export function PutAwayPage() {
  const { day } = useParams({ strict: false });
  const query = useAsk(benchSummary, { bench_day: day as RecordId });
  return (
    <Asked query={query}>
      {({ summary }) => {
        if (summary === null) return <NoPage />;
        const all = summary.crosses.flatMap(({ queens }) => queens);
        const flagged = all.filter(isUnexplained);
        const away = all.filter(({ done, closed }) => done === true && !closed);
        const waiting = all.filter(({ done }) => done === null).length;
        const unsaid = summary.stops.filter(({ reason }) => reason === null);
        const isSettled =
          flagged.length + away.length + unsaid.length + summary.worries.length + summary.twice.length === 0;
        return (
          <section className="stack wide">
            <p>
              <Link to={`/bench/${summary.day.id}`}>{say('bench.day-of', { day: dayWords(summary.day.day) })}</Link>
            </p>
            <div className="spread">
              <h1>{say('bench.put-away')}</h1>
              <a
                className="button"
                href={withInput('/api/paper/home-slip', { bench_day: summary.day.id })}
                target="_blank"
                rel="noreferrer"
              >
                {say('bench.print-home')}
              </a>
            </div>
            <section className="stack tight" aria-labelledby="open-things">
              <h2 id="open-things">{say('bench.away.open')}</h2>
              {isSettled ? <p>{say('bench.away.all-settled')}</p> : null}
              {waiting === 0 ? null : <p>{say('bench.away.waiting', { n: waiting })}</p>}
              <ul className="plain-list">
                {flagged.map((queen) => (
                  <FlagRow key={queen.face.id} queen={queen} />
                ))}
                {away.map((queen) => (
                  <HomeRow key={queen.face.id} queen={queen} />
                ))}
                {summary.stops.map((stop) => (
                  <StopRow key={stop.id} stop={stop} />
                ))}
                {summary.twice.map((each) => (
                  <TwoReadingsRow key={each.worry} of={each} />
                ))}
                {summary.worries.map((worry) => (
                  <WorryRow key={worry.id} worry={worry} />
                ))}
              </ul>
            </section>
            <ScanHome queens={all.filter(({ done }) => done === true)} />
            {summary.crosses.map((cross) => (
              <CrossSummary key={cross.id} cross={cross} />
            ))}
            <CloseDay summary={summary} />
          </section>
        );
      }}
    </Asked>
  );
}
