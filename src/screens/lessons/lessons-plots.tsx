import { FEW_QUEENS } from '#domain/lessons/funnel.ts';
import type { Factor, LessonsAnswer } from '#questions/yard/lessons.ts';
import { say } from '#words/say.ts';
import { OnsetPlot, SurvivalPlot } from './curve-plots.tsx';
import { FunnelPlot } from './funnel-plot.tsx';
import { percent } from './lessons-words.ts';
import { RunPlot } from './run-plot.tsx';
import { StairsPlot } from './stairs-plot.tsx';
import { StoragePlot } from './storage-plot.tsx';

/** The run line of each group of five or more, small and side by side; how to read them stands once above. */
export function Runs({ told, by }: { told: LessonsAnswer; by: Factor }) {
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

/** Funnel, losses stairs, onset, survival and storage. */
export function Plots({ told, by }: { told: LessonsAnswer; by: Factor }) {
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
