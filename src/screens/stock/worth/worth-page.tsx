// biome-ignore-all lint/a11y/noRedundantRoles: leaf cards lay the table out as blocks, which would take its roles away
import '../../style/worth.css';
import '../../style/lessons.css';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import {
  impossibleOf,
  impossibleTogether,
  inputOf,
  usualChoices,
  type WorthChoices,
  type WorthFacts,
} from '#domain/worth/choices.ts';
import { type Criterion, criteria } from '#domain/worth/criteria.ts';
import type { Evaluation } from '#domain/worth/evaluation.ts';
import type { Change } from '#domain/worth/what-changed.ts';
import { worthFacts } from '#questions/stock/worth-facts.ts';
import { type RunLine, type StoredRun, worthRun, worthRuns } from '#questions/stock/worth-runs.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { useComputed } from '../../link/computed.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { ChoiceField, SelectField, TickField } from '../../parts/form.tsx';
import { sayHere } from '../../parts/problems.tsx';
import { Assumptions } from '../assumptions.tsx';
import { StockNav } from '../stock-nav.tsx';
import { ChoicesForm } from './choices-form.tsx';
import { PairsProblem } from './choices-pairs.tsx';
import { Opened } from './opened.tsx';
import { Provenance } from './provenance.tsx';
import { Ranking, rankedOf } from './ranking.tsx';
import { Check, Trend } from './report.tsx';
import { useWorkingOut } from './use-working-out.ts';
import { differenceWords, reliabilityWords, type Seen, seenName, traitName } from './worth-words.ts';

type Facts = WorthFacts & { traits: string[]; faces: Record<string, QueenFace> };

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
function Moved({ changes, run, seen, unit }: { changes: readonly Change[]; run: RunLine; seen: Seen; unit: number }) {
  const both = changes.filter(({ from, to }) => from !== null && to !== null);
  const moved = both.filter(({ from, to }) => Math.abs((to ?? 0) - (from ?? 0)) * unit > 1e-9).slice(0, 8);
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

type ResultProps = { run: StoredRun; before: StoredRun | null; faces: Facts['faces'] };

/** A run: the ranking, one number opened, what moved, the trend, the check, and how it was worked out. */
function Result({ run, before, faces }: ResultProps) {
  const { answer, line, input } = run;
  const [criterion, setCriterion] = useState<Criterion>('mother');
  const [chosen, setSeen] = useState<string>('');
  const [livingOnly, setLivingOnly] = useState(true);
  const [opened, setOpened] = useState<string | null>(null);
  const seen: Seen = answer.traits.includes(chosen)
    ? chosen
    : answer.indexTrend === null
      ? (answer.traits[0] ?? null)
      : null;
  const unit = seen === null ? 1 : (line.units[seen] ?? 1);
  const asked = { trait: seen, criterion };
  const changed = useComputed<Change[] | { problems: unknown }>(
    'evaluation-changes',
    [line.id, before?.line.id, asked],
    before === null ? null : { before: before.input, after: input, asked },
  );
  const changes = Array.isArray(changed.data) ? changed.data : [];
  const living = answer.queens.filter(({ id }) => !livingOnly || (faces[id]?.living ?? 'gone') !== 'gone');
  const ranked = rankedOf(living, { seen, criterion }, { faces, units: unit, changes });
  const found = ranked.find(({ queen }) => queen.id === opened);
  const reference = line.choices?.reference ?? null;
  return (
    <>
      <Warnings warnings={answer.warnings} />
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
              ...(answer.indexTrend === null ? [] : [{ value: '', words: say('worth.index') }]),
              ...answer.traits.map((value) => ({ value, words: traitName(value) })),
            ]}
          />
        </div>
        <TickField label={say('worth.living-only')} value={livingOnly} onChange={setLivingOnly} />
      </div>
      <p>
        {seenName(seen)}. {reliabilityWords(answer, criterion)}
      </p>
      <div className={found === undefined ? 'stack' : 'ranking-and-opened'}>
        <Ranking
          ranked={ranked}
          seen={seen}
          kind={answer.reliability}
          base={reference === null ? say('worth.zero-founders') : say('worth.zero-year', { year: String(reference) })}
          opened={opened}
          onOpen={(queen) => setOpened(queen === opened ? null : queen)}
        />
        {found === undefined ? null : (
          <Opened
            key={found.queen.id}
            ranked={found}
            run={run}
            seen={seen}
            criterion={criterion}
            faces={faces}
            change={changes.find(({ queen }) => queen === found.queen.id)}
          />
        )}
      </div>
      {before === null ? null : <Moved changes={changes} run={before.line} seen={seen} unit={unit} />}
      <Trend answer={answer} seen={seen} unit={unit} />
      <Check key={line.id} run={run} />
      <section className="stack tight" aria-labelledby="when-not">
        <h2 id="when-not">{say('worth.when-not')}</h2>
        <p>{say('worth.when-not-what')}</p>
        <Assumptions assumptions={answer.assumptions} />
      </section>
      <Provenance key={`${line.id} run`} run={run} />
    </>
  );
}

/** The run chosen, and the one before it to compare with. */
function Runs({ runs, faces }: { runs: readonly RunLine[]; faces: Facts['faces'] }) {
  const [chosen, setChosen] = useState<string>('');
  const at = Math.max(
    0,
    runs.findIndex(({ id }) => id === chosen),
  );
  const [line, earlier] = [runs[at], runs[at + 1]];
  const query = useAsk(worthRun, { run: line?.id as RecordId });
  const before = useAsk(worthRun, { run: (earlier ?? line)?.id as RecordId }, earlier !== undefined);
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
      <Asked query={query}>
        {({ run }) =>
          run === null ? (
            <p role="alert">{say('worth.run-lost')}</p>
          ) : (
            <Result run={run} before={earlier === undefined ? null : (before.data?.run ?? null)} faces={faces} />
          )
        }
      </Asked>
    </>
  );
}

/** Whether the book has moved since a run. */
function Stale({ facts, run }: { facts: Facts; run: RunLine }) {
  const input = run.choices === null ? null : inputOf(facts, run.choices);
  const now = useComputed<string>('evaluation-fingerprint', [run.id, input], input);
  if (now.data === undefined || now.data === run.fingerprint) return null;
  return <p className="doubtful">{say('worth.stale')}</p>;
}

function Working({ facts, runs }: { facts: Facts; runs: readonly RunLine[] }) {
  const last = runs[0]?.choices ?? null;
  const [choices, setChoices] = useState<WorthChoices>(() => last ?? usualChoices(facts.records, facts.traits));
  const { workOut, stop, progress, problems } = useWorkingOut(facts);
  const impossible = impossibleOf(choices).map(traitName);
  const cannot = impossible.length > 0 || impossibleTogether(choices) !== null;
  const first = runs[0];
  return (
    <>
      <details className="worth-begin" open={runs.length === 0} key={runs.length === 0 ? 'first' : 'later'}>
        <summary>{say('worth.choices')}</summary>
        <ChoicesForm facts={facts} choices={choices} onChoices={setChoices} />
      </details>
      {impossible.length === 0 ? null : (
        <p className="doubtful" role="alert">
          {say('worth.impossible', { names: impossible.join(', ') })}
        </p>
      )}
      <PairsProblem choices={choices} onChoices={setChoices} />
      {first === undefined ? <p>{say('worth.not-yet')}</p> : <Stale facts={facts} run={first} />}
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
  const facts = useAsk(worthFacts, { today: today() });
  const runs = useAsk(worthRuns, {});
  return (
    <section className="stack">
      <h1>{say('worth.title')}</h1>
      <StockNav />
      <p className="page-lead">{say('worth.lead')}</p>
      <Asked query={facts}>
        {(told) => (
          <Asked query={runs}>
            {({ runs: lines }) =>
              told.records.length === 0 && lines.length === 0 ? (
                <Empty />
              ) : (
                <>
                  <Working facts={told} runs={lines} />
                  {lines.length === 0 ? null : <Runs runs={lines} faces={told.faces} />}
                </>
              )
            }
          </Asked>
        )}
      </Asked>
    </section>
  );
}
