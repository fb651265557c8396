// biome-ignore-all lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
import '../style/form.css';
import '../style/import.css';
import { Link } from '@tanstack/react-router';
import { type ReactNode, useState } from 'react';
import { importStock } from '#actions/import/import-stock.ts';
import type { Answers } from '#domain/stock-book/choices.ts';
import type { Rehearsal, RehearsalCounts } from '#domain/stock-book/rehearsal.ts';
import { language, say } from '#words/say.ts';
import { OutOfReach } from '../link/server.ts';
import { today } from '../link/this-device.ts';
import { useDo } from '../link/use-do.ts';
import { Problems, sayRefusals } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { StockNav } from '../stock/stock-nav.tsx';
import { ChooseFile } from './choose-file.tsx';
import { ColumnsTable } from './columns-table.tsx';
import { Questions } from './questions.tsx';
import { NoTable, ReadAsChoices } from './read-as.tsx';
import { Mended, RowProblems } from './row-problems.tsx';
import { type Bringing, useBringing, useRehearsal } from './use-import.ts';

function Step({ n, title, children }: { n: number; title: string; children: ReactNode }) {
  return (
    <section className="step stack" aria-labelledby={`step-${n}`}>
      <h2 id={`step-${n}`}>
        <span className="step-number" aria-hidden="true">
          {n}
        </span>{' '}
        {title}
      </h2>
      {children}
    </section>
  );
}

/** What would be written, in one line: "200 queens, 1 mother without a row, 2 lines, …". */
function countsWords({
  queens,
  made,
  groups,
  lines,
  yards,
  hives,
  matings,
  ended,
  notes,
  leftOut,
}: RehearsalCounts): string {
  const parts: (readonly [Parameters<typeof say>[0], number])[] = [
    ['count.queens', queens],
    ['count.made', made],
    ['count.groups', groups],
    ['count.lines', lines],
    ['count.yards', yards],
    ['count.hives', hives],
    ['count.matings', matings],
    ['count.ended', ended],
    ['count.notes', notes],
    ['count.left-out', leftOut],
  ];
  const told = parts.filter(([, n]) => n > 0).map(([id, n]) => say(id, { n }));
  return new Intl.ListFormat(language(), { type: 'conjunction' }).format(told);
}

function FirstRows({ rehearsal }: { rehearsal: Rehearsal }) {
  return (
    <details className="assumptions">
      <summary>{say('import.first-rows', { n: rehearsal.firstRows.length })}</summary>
      <section
        className="scroll-inside"
        tabIndex={0}
        aria-label={say('import.first-rows', { n: rehearsal.firstRows.length })}
      >
        <table className="book raw-rows">
          <tbody>
            {rehearsal.firstRows.map(({ number, texts }) => (
              <tr key={number}>
                <th scope="row" className="number">
                  {number}
                </th>
                {texts.map((text, column) => (
                  <td key={column}>{text.slice(0, 60)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}

type RehearsedProps = {
  bringing: Bringing;
  rehearsal: Rehearsal;
  edit: ReturnType<typeof useBringing>;
  onDone: (counts: RehearsalCounts) => void;
};

function BringIn({ bringing, rehearsal, onDone }: Omit<RehearsedProps, 'edit'>) {
  const { run, problems, busy } = useDo();
  const [asked, setAsked] = useState(false);
  const held = rehearsal.problemCounts
    .filter(({ weight }) => weight === 'must')
    .reduce((sum, { rows }) => sum + rows, 0);
  const open = rehearsal.questions.filter(({ needed }) => needed).length;
  const bring = async () => {
    setAsked(true);
    if (!rehearsal.ready) return;
    const did = await run(
      importStock,
      { hash: bringing.hash, choices: bringing.choices, today: today() },
      { happened: true },
    );
    if ('problems' in did || did.result === null) return;
    tell(say('import.brought', { n: did.result.queens }));
    onDone(did.result);
  };
  const n = rehearsal.counts.queens + rehearsal.counts.made;
  return (
    <div className="stack tight">
      <Problems problems={problems.slice(0, 20)} title={say('form.not-kept')} />
      <div className="cluster">
        <button
          type="button"
          className="button main"
          aria-disabled={!rehearsal.ready || busy}
          onClick={() => !busy && void bring()}
        >
          {busy ? say('import.bringing', { n }) : say('import.bring', { n })}
        </button>
        <span role="status">
          {rehearsal.ready
            ? say('import.ready')
            : asked || held + open > 0
              ? say('import.held', { rows: held, questions: open })
              : ''}
        </span>
      </div>
    </div>
  );
}

function Rehearsed({ bringing, rehearsal, edit, onDone }: RehearsedProps) {
  const { choose, mend } = edit;
  const { choices } = bringing;
  const answers = choices.answers ?? {};
  const onAnswer = (some: Partial<Answers>) => choose({ answers: { ...answers, ...some } });
  return (
    <>
      <Step n={2} title={say('import.step-columns')}>
        <ReadAsChoices bringing={bringing} rehearsal={rehearsal} onChoose={choose} />
        <FirstRows rehearsal={rehearsal} />
        <ColumnsTable
          columns={rehearsal.columns}
          onMean={(index, meaning) => choose({ columns: { ...choices.columns, [index]: meaning } })}
        />
        <h3>{say('import.asked')}</h3>
        <Questions questions={rehearsal.questions} answers={answers} onAnswer={onAnswer} />
      </Step>
      <Step n={3} title={say('import.step-rehearsal')}>
        <p className="lead">{say('import.would-write', { what: countsWords(rehearsal.counts) })}</p>
        <RowProblems rehearsal={rehearsal} fixes={choices.fixes ?? {}} onMend={mend} />
        <Mended fixes={choices.fixes ?? {}} columns={rehearsal.columns} onMend={mend} />
        <BringIn bringing={bringing} rehearsal={rehearsal} onDone={onDone} />
      </Step>
    </>
  );
}

function Brought({ counts }: { counts: RehearsalCounts }) {
  return (
    <section className="empty" role="status">
      <h2>{say('import.done')}</h2>
      <p>{say('import.written', { what: countsWords(counts) })}</p>
      <p>{say('import.one-step-back')}</p>
      <div className="cluster">
        <Link to="/stock" className="button main">
          {say('import.to-book')}
        </Link>
        <Link to="/history" className="button">
          {say('edge.history')}
        </Link>
      </div>
    </section>
  );
}

/** Bringing a spreadsheet in three steps: the file, its columns, the dress rehearsal. Nothing is written before the last button. */
export function ImportPage() {
  const edit = useBringing();
  const [brought, setBrought] = useState<RehearsalCounts | null>(null);
  const { bringing, keep, choose } = edit;
  const { answer, isAsking, error } = useRehearsal(bringing);
  const done = (counts: RehearsalCounts) => {
    keep(null);
    setBrought(counts);
  };
  return (
    <section className="stack import">
      <h1>{say('stock.bring')}</h1>
      <StockNav />
      {brought !== null && bringing === null ? <Brought counts={brought} /> : null}
      <Step n={1} title={say('import.step-file')}>
        {bringing === null ? (
          <ChooseFile
            onChosen={(chosen) => {
              setBrought(null);
              keep(chosen);
            }}
          />
        ) : (
          <div className="cluster">
            <strong>{bringing.name}</strong>
            <button type="button" className="button" onClick={() => keep(null)}>
              {say('import.another')}
            </button>
            <span role="status" className="soft">
              {isAsking ? say('import.rehearsing') : ''}
            </span>
          </div>
        )}
      </Step>
      {error === null ? null : (
        <p role="alert">{error instanceof OutOfReach ? say('edge.out-of-reach') : say('import.failed')}</p>
      )}
      {bringing === null || answer === undefined ? null : 'rehearsal' in answer ? (
        <Rehearsed bringing={bringing} rehearsal={answer.rehearsal} edit={edit} onDone={done} />
      ) : 'problem' in answer ? (
        <NoTable problem={answer.problem} bringing={bringing} onChoose={choose} />
      ) : (
        <p role="alert">{sayRefusals(answer.problems)}</p>
      )}
    </section>
  );
}
