// biome-ignore-all lint/a11y/noRedundantRoles: leaf cards lay the table out as blocks, which would take its roles away
import '../../style/worth.css';
import '../../style/lessons.css';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { type ChangeColumns, changeOf } from '#domain/worth/changes-told.ts';
import { impossibleOf, impossibleTogether, type WorthChoices } from '#domain/worth/choices.ts';
import { type Criterion, criteria } from '#domain/worth/criteria.ts';
import type { Evaluation } from '#domain/worth/evaluation.ts';
import { type RankedStock, seenOf } from '#domain/worth/ranking.ts';
import type { RunTold } from '#domain/worth/run-told.ts';
import type { StockTold } from '#domain/worth/stock-told.ts';
import type { Change } from '#domain/worth/what-changed.ts';
import { type RunLine, worthRuns } from '#questions/stock/worth-runs.ts';
import { shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { keptUnder, useComputed, useDesk, useDeskWhileHere } from '../../link/computed.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { ChoiceField, SelectField, TickField } from '../../parts/form.tsx';
import { sayHere } from '../../parts/problems.tsx';
import { AssumptionsInShort } from '../assumptions.tsx';
import { StockNav } from '../stock-nav.tsx';
import { ChoicesForm } from './choices-form.tsx';
import { PairsProblem } from './choices-pairs.tsx';
import { Opened } from './opened.tsx';
import { Provenance } from './provenance.tsx';
import { Ranking, SHOWN } from './ranking.tsx';
import { Check, Trend } from './report.tsx';
import { answerOfRun, inputOfRun, theStock, useStockTold } from './sources.ts';
import { useWorkingOut } from './use-working-out.ts';
import { differenceWords, reliabilityWords, type Seen, seenName, traitName } from './worth-words.ts';

/** Queens that moved most, as many as are told. */
const MOVED = 8;

/** What stands against ranking, said with the answer. */
function Warnings({ warnings }: Pick<Evaluation, 'warnings'>) {
  if (warnings.length === 0) return null;
  return (
    <div className="stack tight">
      {warnings.map(({ code, values }) => (
        <p key={code} className="doubtful">
          {sayAny(`worth.warning.${code}`, values)}
        </p>
      ))}
      <p>
        <Link to="/yard/records">{say('worth.look-seasons')}</Link>
      </p>
    </div>
  );
}

/** The queens that moved most since the run before. */
function Moved({ moved, run, seen, unit }: { moved: readonly Change[]; run: RunLine; seen: Seen; unit: number }) {
  return (
    <section className="stack tight" aria-labelledby="moved">
      <h2 id="moved">{say('worth.changed-list', { day: shortDay(run.day) })}</h2>
      {moved.length === 0 ? (
        <p>{say('worth.changed-title', { n: 0 })}</p>
      ) : (
        <table className="book cards" role="table">
          <thead role="rowgroup">
            <tr role="row">
              <th scope="col">{say('records.queen')}</th>
              {(['from', 'to'] as const).map((end) => (
                <th key={end} scope="col" className="number">
                  {sayAny(`worth.${end}`)}
                </th>
              ))}
              {(['records', 'descent', 'model', 'base'] as const).map((by) => (
                <th key={by} scope="col" className="number">
                  {sayAny(`worth.by.${by}`)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody role="rowgroup">
            {moved.map((change) => (
              <tr key={change.queen} role="row">
                <th scope="row" role="rowheader">
                  {change.code}
                </th>
                {(
                  [
                    [say('worth.from'), change.from ?? 0],
                    [say('worth.to'), change.to ?? 0],
                    [say('worth.by.records'), change.byRecords],
                    [say('worth.by.descent'), change.byDescent],
                    [say('worth.by.model'), change.byModel],
                    [say('worth.by.base'), change.byBase],
                  ] as const
                ).map(([name, value]) => (
                  <td key={name} role="cell" className="number" data-label={name}>
                    {differenceWords(seen, value * unit)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

type ResultProps = { line: RunLine; told: RunTold; earlier: RunLine | null; stockAt: number };

/** A run: the ranking, one number opened, what moved, the trend, the check, and how it was worked out. */
function Result({ line, told, earlier, stockAt }: ResultProps) {
  const [criterion, setCriterion] = useState<Criterion>('mother');
  const [chosen, setSeen] = useState<string>('');
  const [livingOnly, setLivingOnly] = useState(true);
  const [opened, setOpened] = useState<string | null>(null);
  const [most, setMost] = useState(SHOWN);
  const seen = seenOf(told, chosen);
  const unit = seen === null ? 1 : (line.units[seen] ?? 1);
  const asked = { trait: seen, criterion };
  const changed = useComputed<ChangeColumns | { problems: unknown } | null>(
    'run-changes',
    [line.id, earlier?.id, asked],
    earlier === null ? null : { asked, most: MOVED },
    { brings: earlier === null ? {} : { before: keptUnder(earlier.input), after: keptUnder(line.input) } },
  );
  const changes = changed.data != null && 'queens' in changed.data ? changed.data : null;
  const view = { of: chosen, criterion, livingOnly, most, opened };
  const before = changes === null ? null : { queens: changes.queens, from: changes.from };
  const ranking = useDesk<RankedStock | null>(
    'run-ranking',
    [line.id, stockAt, view, before === null ? null : earlier?.id],
    { asked: { ...view, units: line.units, before } },
    { brings: { ...answerOfRun(line), ...theStock() } },
  );
  const found = ranking.data?.opened ?? null;
  const change = found === null || changes === null ? undefined : changeOf(changes, found.queen.id);
  const reference = line.choices?.reference ?? null;
  return (
    <>
      <Warnings warnings={told.warnings} />
      <div className="form worth-view">
        <ChoiceField
          label={say('worth.criterion')}
          value={criterion}
          onChange={setCriterion}
          choices={criteria.map((value) => ({ value, words: sayAny(`worth.criterion.${value}`) }))}
          hint={sayAny(`worth.criterion-what.${criterion}`)}
        />
        <div className="fields">
          <SelectField
            label={say('worth.of')}
            value={seen ?? ''}
            onChange={setSeen}
            choices={[
              ...(told.indexTrend === null ? [] : [{ value: '', words: say('worth.index') }]),
              ...told.traits.map((value) => ({ value, words: traitName(value) })),
            ]}
          />
        </div>
        <TickField label={say('worth.living-only')} value={livingOnly} onChange={setLivingOnly} />
      </div>
      <p>
        {seenName(seen)}. {reliabilityWords(told, criterion)}
      </p>
      <div className={found === null ? 'stack' : 'ranking-and-opened'}>
        <Asked query={ranking}>
          {(ranked) =>
            ranked === null ? (
              <p role="alert">{say('worth.run-lost')}</p>
            ) : (
              <Ranking
                ranked={ranked}
                isBusy={ranking.isPlaceholderData}
                kind={told.reliability}
                base={
                  reference === null ? say('worth.zero-founders') : say('worth.zero-year', { year: String(reference) })
                }
                opened={opened}
                onOpen={(queen) => setOpened(queen === opened ? null : queen)}
                onMore={setMost}
              />
            )
          }
        </Asked>
        {found === null ? null : (
          <Opened
            key={found.queen.id}
            ranked={found}
            line={line}
            told={told}
            seen={seen}
            criterion={criterion}
            stockAt={stockAt}
            change={change}
          />
        )}
      </div>
      {earlier === null || changes === null ? null : (
        <Moved moved={changes.most} run={earlier} seen={seen} unit={unit} />
      )}
      <Trend answer={told} seen={seen} unit={unit} />
      <Check key={line.id} line={line} told={told} />
      <section className="stack tight" aria-labelledby="when-not">
        <h2 id="when-not">{say('worth.when-not')}</h2>
        <p>{say('worth.when-not-what')}</p>
        <AssumptionsInShort told={told.assumptions} n={told.assumptions.n} />
      </section>
      <Provenance key={`${line.id} run`} line={line} told={told} />
    </>
  );
}

/** A run with what is told of it, once the worker has it. */
function OneRun({ line, earlier, stockAt }: Omit<ResultProps, 'told'>) {
  const query = useDesk<RunTold | null>(
    'run-told',
    [line.id],
    {},
    { brings: { ...answerOfRun(line), ...inputOfRun(line) } },
  );
  return (
    <Asked query={query}>
      {(told) =>
        told === null ? (
          <p role="alert">{say('worth.run-lost')}</p>
        ) : (
          <Result line={line} told={told} earlier={earlier} stockAt={stockAt} />
        )
      }
    </Asked>
  );
}

/** The run chosen, and the one before it to compare with. */
function Runs({ runs, stockAt }: { runs: readonly RunLine[]; stockAt: number }) {
  const [chosen, setChosen] = useState<string>('');
  const at = Math.max(
    0,
    runs.findIndex(({ id }) => id === chosen),
  );
  const [line, earlier] = [runs[at], runs[at + 1]];
  return (
    <>
      {runs.length < 2 ? null : (
        <div className="form">
          <SelectField
            label={say('worth.run-of')}
            value={line?.id ?? ''}
            onChange={setChosen}
            choices={runs.map(({ id, day, done, choices }) => ({
              value: id as string,
              words: `${say('worth.run-line', { day: shortDay(day), n: choices?.traits.length ?? 0 })}${done === null ? '' : `, ${done.slice(11, 16)}`}`,
            }))}
          />
        </div>
      )}
      {line === undefined ? null : <OneRun line={line} earlier={earlier ?? null} stockAt={stockAt} />}
    </>
  );
}

/** Whether the book has moved since a run. */
function Stale({ run, stockAt }: { run: RunLine; stockAt: number }) {
  const now = useDesk<string>(
    'stock-fingerprint',
    [run.id, stockAt],
    run.choices === null ? null : { choices: run.choices },
    { brings: theStock(), patient: true },
  );
  if (now.data === undefined || now.isPlaceholderData || now.data === run.fingerprint) return null;
  return <p className="doubtful">{say('worth.stale')}</p>;
}

type WorkingProps = { stock: StockTold; stockAt: number; runs: readonly RunLine[] };

function Working({ stock, stockAt, runs }: WorkingProps) {
  const last = runs[0]?.choices ?? null;
  const [choices, setChoices] = useState<WorthChoices>(() => last ?? stock.usual);
  const { workOut, stop, progress, problems } = useWorkingOut();
  const impossible = impossibleOf(choices).map(traitName);
  const cannot = impossible.length > 0 || impossibleTogether(choices) !== null;
  const first = runs[0];
  return (
    <>
      <details className="worth-begin" open={runs.length === 0} key={runs.length === 0 ? 'first' : 'later'}>
        <summary>{say('worth.choices')}</summary>
        <ChoicesForm stock={stock} choices={choices} onChoices={setChoices} />
      </details>
      {impossible.length === 0 ? null : (
        <p className="doubtful" role="alert">
          {say('worth.impossible', { names: impossible.join(', ') })}
        </p>
      )}
      <PairsProblem choices={choices} onChoices={setChoices} />
      {first === undefined ? <p>{say('worth.not-yet')}</p> : <Stale run={first} stockAt={stockAt} />}
      <div className="cluster">
        <button
          type="button"
          className="button main"
          disabled={progress !== null || cannot || choices.traits.length === 0}
          onClick={() => void workOut(choices)}
        >
          {say(runs.length === 0 ? 'worth.do' : 'worth.again')}
        </button>
        {progress === null ? null : (
          <>
            <progress value={progress[0]} max={progress[1]} aria-label={say('worth.do')} />
            <span role="status">
              {say('worth.working', { done: Math.min(progress[1], Math.floor(progress[0]) + 1), whole: progress[1] })}
            </span>
            <button type="button" className="button" onClick={stop}>
              {say('worth.stop')}
            </button>
          </>
        )}
      </div>
      {problems.length === 0 ? null : (
        <div className="problems" role="alert">
          <h3>{say('worth.cannot')}</h3>
          <ul>
            {problems.map((problem) => (
              <li key={`${problem.code} ${problem.path}`}>{sayHere(problem)}</li>
            ))}
          </ul>
        </div>
      )}
    </>
  );
}

function Empty() {
  return (
    <section className="empty">
      <p>{say('worth.empty')}</p>
      <svg viewBox="0 0 240 96" width="240" height="96" role="img" aria-label={say('worth.empty')}>
        {[
          [150, 40],
          [120, 60],
          [90, 30],
        ].map(([x = 0, reach = 0], n) => (
          <g key={x} transform={`translate(0 ${20 + n * 28})`}>
            <path d={`M${x - reach} 0h${2 * reach}`} stroke="currentColor" strokeWidth="2" />
            <circle cx={x} r="6" fill="currentColor" />
          </g>
        ))}
      </svg>
      <p>{say('worth.empty-act')}</p>
      <Link to="/yard/scores" className="button main">
        {say('yard.scores')}
      </Link>
    </section>
  );
}

/** Worth: what each queen would pass on, worked out here, kept with its provenance, opened down to the records. */
export function WorthPage() {
  useDeskWhileHere();
  const stock = useStockTold();
  const stockAt = stock.dataUpdatedAt;
  const runs = useAsk(worthRuns, {});
  return (
    <section className="stack">
      <h1>{say('worth.title')}</h1>
      <StockNav />
      <p className="page-lead">{say('worth.lead')}</p>
      <Asked query={stock}>
        {(told) => (
          <Asked query={runs}>
            {({ runs: lines }) =>
              told.records === 0 && lines.length === 0 ? (
                <Empty />
              ) : (
                <>
                  <Working stock={told} stockAt={stockAt} runs={lines} />
                  {lines.length === 0 ? null : <Runs runs={lines} stockAt={stockAt} />}
                </>
              )
            }
          </Asked>
        )}
      </Asked>
    </section>
  );
}
