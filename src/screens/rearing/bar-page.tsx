import { Link, useParams } from '@tanstack/react-router';
import { Fragment, useState } from 'react';
import { emergeVirgins } from '#actions/rearing/emerge-virgins.ts';
import { recordCells } from '#actions/rearing/record-cells.ts';
import { nextDisc } from '#domain/marking/disc-number.ts';
import { type BarLeaf, barLeaf, type CellLine } from '#questions/rearing/bar-leaf.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { useChoosableQueens } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { ChoiceField, Form, NumberField, TextField } from '../parts/form.tsx';
import { PrintMenu } from '../parts/print-menu.tsx';
import { Problems } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { CellBar, type CellState, cellState } from './cell-bar.tsx';
import { PlannedFor } from './planned-for.tsx';

const steps = ['accepted', 'sealed', 'out', 'emerged', 'lost', 'given'] as const;
type Step = (typeof steps)[number];

/** Cells one would choose for a step without looking: those that have come as far as the step before. */
const readyFor: Readonly<Record<Step, readonly CellState[]>> = {
  accepted: ['grafted', 'accepted'],
  sealed: ['accepted'],
  out: ['accepted', 'sealed'],
  emerged: ['accepted', 'sealed', 'out'],
  lost: [],
  given: [],
};

const usual = (cells: readonly CellLine[], step: Step): number[] =>
  step === 'accepted' || step === 'lost' || step === 'given'
    ? []
    : cells.filter((cell) => readyFor[step].includes(cellState(cell))).map(({ position }) => position);

/** The step a bar is at: what will be counted next. */
function nextStep(cells: readonly CellLine[]): Step {
  const states = new Set(cells.map(cellState));
  if (!cells.some(({ accepted }) => accepted !== null)) return 'accepted';
  if (states.has('accepted')) return 'sealed';
  if (states.has('sealed')) return 'out';
  return 'emerged';
}

type Virgin = { position: number; code?: string; disc?: number };

/** Codes typed one a line or separated by blanks, and discs counted on from the first, given to the chosen cells in order. */
function virginsOf(positions: readonly number[], codes: string, firstDisc: number | null): Virgin[] {
  const typed = codes.split(/[\s,;]+/).filter(Boolean);
  return positions.map((position, i) => {
    const code = typed[i];
    return {
      position,
      ...(code === undefined ? {} : { code }),
      ...(firstDisc === null ? {} : { disc: firstDisc + i }),
    };
  });
}

/** The next disc number nobody of this year bears. */
function useNextDisc(year: number): number | null {
  const bearers = useChoosableQueens('all').flatMap(({ queen }) =>
    queen === undefined || queen.year === null
      ? []
      : [{ year: queen.year, disc: queen.mark?.disc ?? null, living: queen.living !== 'gone' }],
  );
  return nextDisc(year, bearers);
}

function CountCells({ leaf }: { leaf: BarLeaf }) {
  const [step, setStep] = useState<Step>(nextStep(leaf.cells));
  const [chosen, setChosen] = useState<readonly number[]>(usual(leaf.cells, nextStep(leaf.cells)));
  const [on, setOn] = useState<Day | null>(today());
  const [words, setWords] = useState('');
  const [disc, setDisc] = useState<number | null>(null);
  const free = useNextDisc(yearOf(on ?? today()));
  const { run, problems, busy } = useDo();
  const pick = (next: Step) => {
    setStep(next);
    setChosen(usual(leaf.cells, next));
  };
  const positions = [...chosen].sort((a, b) => a - b);
  const submit = async () => {
    const day = on === null ? {} : { on };
    const graft = leaf.graft.id as RecordId;
    const did =
      step === 'emerged'
        ? await run(emergeVirgins, { graft, ...day, virgins: virginsOf(positions, words, disc) }, { happened: true })
        : await run(
            recordCells,
            { graft, what: step, positions, ...day, ...(words.trim() === '' ? {} : { given_to: words }) },
            { happened: true },
          );
    if ('problems' in did) return;
    setWords('');
    setDisc(null);
    setChosen([]);
    tell(say('bar.kept', { n: positions.length, step: sayAny(`bar-step.${step}`) }));
  };
  const toggle = (position: number) =>
    setChosen(chosen.includes(position) ? chosen.filter((each) => each !== position) : [...chosen, position]);
  const there = leaf.cells.filter((cell) => cellState(cell) !== 'emerged' && cellState(cell) !== 'not-accepted');
  return (
    <Form
      act={say('bar.count', { n: chosen.length, step: sayAny(`bar-step.${step}`) })}
      problems={problems}
      busy={busy}
      onSubmit={submit}
    >
      <ChoiceField
        label={say('bar.what-happened')}
        value={step}
        onChange={pick}
        choices={steps.map((value) => ({ value, words: sayAny(`bar-step.${value}`) }))}
      />
      <CellBar cells={leaf.cells} ranges={leaf.line.ranges} chosen={chosen} onToggle={toggle} />
      <div className="cluster">
        <button type="button" className="button" onClick={() => setChosen(there.map(({ position }) => position))}>
          {say('bar.all')}
        </button>
        <button type="button" className="button" onClick={() => setChosen([])}>
          {say('bar.none')}
        </button>
      </div>
      <div className="fields">
        <DayField label={say('bar.on')} value={on} onChange={setOn} at="on" />
        {step === 'emerged' ? (
          <>
            <TextField label={say('bar.codes')} hint={say('bar.codes-hint')} value={words} onChange={setWords} code />
            <NumberField
              label={say('bar.first-disc')}
              hint={free === null ? undefined : say('bar.first-disc-hint', { disc: free })}
              value={disc}
              onChange={setDisc}
              at="virgins.0.disc"
            />
          </>
        ) : null}
        {step === 'given' ? (
          <TextField label={say('bar.given-to')} value={words} onChange={setWords} at="given_to" needed />
        ) : null}
      </div>
    </Form>
  );
}

function Facts({ leaf }: { leaf: BarLeaf }) {
  const { line, crosses, starter, finisher, graft } = leaf;
  const { cells } = line;
  return (
    <dl className="now">
      <div>
        <dt>{say('rearing.grafted')}</dt>
        <dd>
          {say('rearing.grafted-on', { n: cells.grafted, day: dayWords(graft.day, today()) })}
          {graft.larva_age_hours === null ? '' : `, ${say('bar.hours-old', { n: graft.larva_age_hours })}`}
        </dd>
      </div>
      <PlannedFor planned={leaf.planned} done={graft.day} />
      <div>
        <dt>{say('rearing.whose-cells')}</dt>
        <dd>{line.ranges.map(({ from, to, dam }) => `${from}–${to} ${dam}`).join(', ')}</dd>
      </div>
      <div>
        <dt>{say('rearing.accepted')}</dt>
        <dd>
          {cells.accepted === null
            ? say('bar.not-counted')
            : say('rearing.of', { n: cells.accepted, of: cells.grafted })}
        </dd>
      </div>
      <div>
        <dt>{line.emerged.seen ? say('rearing.emerged') : say('rearing.earliest')}</dt>
        <dd>
          <strong>{dayWords(line.emerged.seen ? line.emerged.from : line.earliest, today())}</strong>
        </dd>
      </div>
      {crosses.length === 0 ? null : (
        <div>
          <dt>{say('rearing.for')}</dt>
          <dd>
            {crosses.map((cross, i) => (
              <Fragment key={cross.id}>
                {i === 0 ? null : ', '}
                <Link to="/rearing/countback/$cross" params={{ cross: cross.id }}>
                  {say('cross.title', { code: cross.code })}
                </Link>
              </Fragment>
            ))}
          </dd>
        </div>
      )}
      {starter === null ? null : (
        <div>
          <dt>{say('bar.starter')}</dt>
          <dd>{starter}</dd>
        </div>
      )}
      {finisher === null ? null : (
        <div>
          <dt>{say('bar.finisher')}</dt>
          <dd>{finisher}</dd>
        </div>
      )}
    </dl>
  );
}

function Hatched({ cells, bar }: { cells: readonly CellLine[]; bar: string }) {
  const out = cells.filter(({ queen }) => queen !== null);
  if (out.length === 0) return null;
  return (
    <section className="stack tight">
      <h2>{say('bar.hatched', { n: out.length })}</h2>
      <ul className="hatched">
        {out.map(({ position, queen, emerged_on }) => (
          <li key={position}>
            <Link to="/stock/queen/$id" params={{ id: queen?.id ?? '' }} className="code">
              {queen?.code ?? say('bar.cell-of', { bar, cell: position })}
            </Link>{' '}
            <span className="soft">
              {say('bar.cell-number', { n: position })}
              {emerged_on === null ? '' : ` · ${dayWords(emerged_on, today())}`}
              {queen?.cross == null ? '' : ` · ${say('cross.title', { code: queen.cross })}`}
            </span>
          </li>
        ))}
      </ul>
      <p>
        <Link to="/rearing/virgins">{say('rearing.virgins')}</Link>
      </p>
    </section>
  );
}

/** The leaf of one bar: whose larvae, what became of each cell, and the queens who came out. */
export function BarPage() {
  const { graft } = useParams({ strict: false });
  const query = useAsk(barLeaf, { graft: graft as RecordId, today: today() });
  return (
    <Asked query={query}>
      {(leaf) =>
        leaf === null ? (
          <Problems problems={[]} title={say('bar.unknown')} />
        ) : (
          <article className="stack">
            <header className="cross-band">
              <h1>{leaf.graft.code}</h1>
              <PrintMenu
                papers={[
                  {
                    words: say('print.this-bar'),
                    paper: 'bar-tags',
                    input: { graft: leaf.graft.id, today: today() },
                  },
                  { words: say('print.door'), paper: 'incubator-list', input: { today: today() } },
                ]}
              />
            </header>
            <Facts leaf={leaf} />
            <CountCells key={`${leaf.graft.id} ${nextStep(leaf.cells)}`} leaf={leaf} />
            <Hatched cells={leaf.cells} bar={leaf.graft.code} />
            <p>
              <Link to="/history/$record" params={{ record: leaf.graft.id }}>
                {say('bar.history')}
              </Link>
            </p>
          </article>
        )
      }
    </Asked>
  );
}
