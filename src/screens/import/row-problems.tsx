import { type FormEvent, useState } from 'react';
import type { RowFix } from '#domain/stock-book/choices.ts';
import type { Rehearsal, RehearsedColumn } from '#domain/stock-book/rehearsal.ts';
import { acceptable, canBeNote, type RowProblem } from '#domain/stock-book/row-problem.ts';
import { say, sayAny } from '#words/say.ts';
import { headingOf } from './columns-table.tsx';

type Mend = (row: number, fix: RowFix | null) => void;
type Fixes = Readonly<Record<string, RowFix>>;

const withSet = (fix: RowFix, column: number, text: string): RowFix => ({
  ...fix,
  set: { ...fix.set, [column]: text },
});

function Cell({ problem, label, onText }: { problem: RowProblem; label: string; onText: (text: string) => void }) {
  const [text, setText] = useState(problem.found);
  const put = (event: FormEvent) => {
    event.preventDefault();
    if (text !== problem.found) onText(text);
  };
  return (
    <form className="mend" onSubmit={put}>
      <input
        type="text"
        value={text}
        aria-label={label}
        autoComplete="off"
        onChange={({ target }) => setText(target.value)}
      />
      <button type="submit" className="button" aria-disabled={text === problem.found}>
        {say('import.mend')}
      </button>
      {problem.suggestions.map((suggestion) => (
        <button type="button" key={suggestion} className="button quiet" onClick={() => onText(suggestion)}>
          {say('import.rather', { text: suggestion })}
        </button>
      ))}
    </form>
  );
}

type ItemProps = { problem: RowProblem; columns: readonly RehearsedColumn[]; fixes: Fixes; onMend: Mend };

/** One row that does not fit, with every way out beside it. */
function ProblemItem({ problem, columns, fixes, onMend }: ItemProps) {
  const { row, column, code, values, weight } = problem;
  const fix = fixes[row] ?? {};
  const at = columns.find(({ index }) => index === column);
  const heading = at === undefined ? '' : headingOf(at);
  const label = heading === '' ? say('import.row', { row }) : say('import.cell', { row, column: heading });
  return (
    <li className="row-problem">
      <p>
        <strong>{label}</strong> {sayAny(`problem.${code}`, { ...values, found: problem.found })}
      </p>
      {weight === 'said' ? null : (
        <div className="ways-out">
          {at === undefined ? null : (
            <Cell
              key={problem.found}
              problem={problem}
              label={label}
              onText={(text) => onMend(row, withSet(fix, at.index, text))}
            />
          )}
          {canBeNote(problem) && column !== null ? (
            <button
              type="button"
              className="button"
              onClick={() => onMend(row, { ...fix, note: [...(fix.note ?? []), column] })}
            >
              {say('import.as-note')}
            </button>
          ) : null}
          {acceptable.has(code) && weight === 'must' ? (
            <button
              type="button"
              className="button"
              onClick={() => onMend(row, { ...fix, accept: [...(fix.accept ?? []), code] })}
            >
              {say('import.as-it-is')}
            </button>
          ) : null}
          <button type="button" className="button" onClick={() => onMend(row, { ...fix, out: true })}>
            {say('import.leave-out')}
          </button>
        </div>
      )}
    </li>
  );
}

const MOST_SHOWN = 60;
/** Choices of one kind that are shown without being asked for. */
const FEW = 12;

type GroupProps = Omit<ItemProps, 'problem'> & {
  problems: readonly RowProblem[];
  all: number;
  open: boolean;
  title: string;
};

function Group({ problems, all, open, title, ...rest }: GroupProps) {
  return (
    <details className="problem-group" open={open}>
      <summary>
        {title} <span className="count">{all}</span>
      </summary>
      <ul>
        {problems.slice(0, MOST_SHOWN).map((problem) => (
          <ProblemItem key={`${problem.row} ${problem.column} ${problem.code}`} problem={problem} {...rest} />
        ))}
      </ul>
      {all > Math.min(problems.length, MOST_SHOWN) ? (
        <p className="note">{say('import.more', { n: all - Math.min(problems.length, MOST_SHOWN) })}</p>
      ) : null}
    </details>
  );
}

const order = { must: 0, choice: 1, said: 2 } as const;

type ProblemsProps = { rehearsal: Rehearsal; fixes: Fixes; onMend: Mend };

/** Every row that does not fit, what holds the import up first; each can be mended in place, kept as a note, or left out. */
export function RowProblems({ rehearsal, fixes, onMend }: ProblemsProps) {
  const { problems, problemCounts, columns } = rehearsal;
  if (problemCounts.length === 0) return <p>{say('import.all-fits')}</p>;
  const waiting = rehearsal.questions.some(({ needed }) => needed);
  const groups = [...problemCounts].sort((a, b) => order[a.weight] - order[b.weight]);
  return (
    <div className="stack tight">
      {waiting ? <p className="problem">{say('import.answer-first')}</p> : null}
      {groups.map(({ code, weight, rows }) => (
        <Group
          key={`${weight} ${code}`}
          title={sayAny(`import.group.${code}`)}
          open={!waiting && (weight === 'must' || (weight === 'choice' && rows <= FEW))}
          all={rows}
          problems={problems.filter((problem) => problem.code === code && problem.weight === weight)}
          columns={columns}
          fixes={fixes}
          onMend={onMend}
        />
      ))}
    </div>
  );
}

function fixWords({ set = {}, out, note = [], accept = [] }: RowFix, columns: readonly RehearsedColumn[]): string {
  const nameOf = (index: number) => {
    const column = columns.find((each) => each.index === index);
    return column === undefined ? String(index + 1) : headingOf(column);
  };
  if (out) return say('import.fixed-out');
  return [
    ...Object.entries(set).map(([column, text]) => say('import.fixed-set', { column: nameOf(Number(column)), text })),
    ...note.map((column) => say('import.fixed-note', { column: nameOf(column) })),
    ...accept.map(() => say('import.fixed-accept')),
  ].join('; ');
}

/** What has been mended so far, row by row; each can be taken back. */
export function Mended({
  fixes,
  columns,
  onMend,
}: {
  fixes: Fixes;
  columns: readonly RehearsedColumn[];
  onMend: Mend;
}) {
  const rows = Object.entries(fixes);
  if (rows.length === 0) return null;
  return (
    <details className="problem-group">
      <summary>
        {say('import.mended')} <span className="count">{rows.length}</span>
      </summary>
      <ul>
        {rows.map(([row, fix]) => (
          <li key={row} className="cluster">
            <strong>{say('import.row', { row })}</strong> <span>{fixWords(fix, columns)}</span>
            <button type="button" className="button quiet" onClick={() => onMend(Number(row), null)}>
              {say('import.take-back')}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
