import { useNavigate } from '@tanstack/react-router';
import { useId, useState } from 'react';
import { startWithOneCross } from '#actions/crosses/start-with-one-cross.ts';
import { earliestInsemination } from '#domain/rearing/count-back.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import { lanesOf } from '#questions/rearing/lanes.ts';
import { profileChoices } from '#questions/rearing/profile-choices.ts';
import { addDays, type Day, weekday } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { useChoosableQueens } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { FieldFrame, Form, NumberField, TickField, useDraft, useProblemAt } from '../parts/form.tsx';
import { LanesDrawing } from '../rearing/lanes-drawing.tsx';
import { emptyCross, wishTyped } from './cross-form.ts';
import { CrossesNav } from './crosses-nav.tsx';
import { DatePreview } from './date-preview.tsx';

type Draft = {
  inseminate_on: Day | null;
  queens: number | null;
  queen_mother: string;
  drone_mother: string;
  drones_there: boolean;
  virgins_there: boolean;
};

const SATURDAY = 6;

/** The first Saturday a cross begun today can be inseminated on. */
function firstSaturday(): Day {
  const { usual } = standardText;
  const earliest = earliestInsemination(today(), {
    profile: standardText,
    queenAge: usual.queenAge,
    droneAge: usual.droneAge,
  });
  return addDays(earliest, (SATURDAY - weekday(earliest) + 7) % 7);
}

type CodeProps = { label: string; hint: string; value: string; onChange: (code: string) => void; at: string };

/** A code typed freely; codes of living queens are offered, a new one makes a new queen. */
function CodeField({ label, hint, value, onChange, at }: CodeProps) {
  const id = useId();
  const queens = useChoosableQueens();
  return (
    <FieldFrame id={id} label={label} hint={hint} problem={useProblemAt(at)} needed>
      {(described) => (
        <>
          <input
            id={id}
            type="text"
            className="code"
            autoComplete="off"
            spellCheck={false}
            list={`${id}-known`}
            value={value}
            onChange={({ target }) => onChange(target.value)}
            {...described}
          />
          <datalist id={`${id}-known`}>
            {queens.map((queen) => (
              <option key={queen.id} value={queen.code} />
            ))}
          </datalist>
        </>
      )}
    </FieldFrame>
  );
}

const FIELD_OF: Readonly<Record<string, string>> = {
  'cross.inseminate_on': 'inseminate_on',
  'cross.queens_wanted': 'queens',
  'dams.0': 'queen_mother',
  'drone_sources.0': 'drone_mother',
};

/** Four questions; the real days stand beside them while they are answered. */
export function StartPage() {
  const navigate = useNavigate();
  const { run, problems, busy } = useDo();
  const [suggested] = useState(firstSaturday);
  const [draft, put, clear] = useDraft<Draft>('start-cross', {
    inseminate_on: suggested,
    queens: 12,
    queen_mother: '',
    drone_mother: '',
    drones_there: false,
    virgins_there: false,
  });
  const { data: choices } = useAsk(profileChoices, {});
  const typed = { ...emptyCross, inseminate_on: draft.inseminate_on, queens_wanted: draft.queens };
  const wish = wishTyped(typed, choices);
  const submit = async () => {
    const { inseminate_on, queens, ...rest } = draft;
    const did = await run(startWithOneCross, {
      ...rest,
      inseminate_on: inseminate_on ?? ('' as Day),
      queens: queens ?? 0,
    });
    if ('problems' in did) return;
    clear();
    void navigate({ to: '/rearing/countback/$cross', params: { cross: did.result.id } });
  };
  const drawn = {
    combs: [],
    bars: [],
    droneMothers: [{ id: 'd', name: draft.drone_mother || say('start.drone-mother-short') }],
    dams: draft.queen_mother || say('start.queen-mother-short'),
  };
  const tooLate = problems.map(({ code }) => code);
  return (
    <section className="stack">
      <h1>{say('cross.start')}</h1>
      <CrossesNav />
      <div className="plan start">
        <Form
          act={say('start.keep')}
          busy={busy}
          onSubmit={submit}
          problems={problems.map((problem) => ({ ...problem, path: FIELD_OF[problem.path] ?? problem.path }))}
        >
          <div className="fields one-column">
            <DayField
              label={say('start.day')}
              value={draft.inseminate_on}
              onChange={(inseminate_on) => put({ inseminate_on })}
              at="inseminate_on"
              needed
            />
            <p className="note">{say('start.day-first', { day: dayWords(suggested) })}</p>
            <NumberField
              label={say('start.queens')}
              value={draft.queens}
              onChange={(queens) => put({ queens })}
              at="queens"
              needed
            />
            <CodeField
              label={say('start.queen-mother')}
              hint={say('start.queen-mother-hint')}
              value={draft.queen_mother}
              onChange={(queen_mother) => put({ queen_mother })}
              at="queen_mother"
            />
            <CodeField
              label={say('start.drone-mother')}
              hint={say('start.drone-mother-hint')}
              value={draft.drone_mother}
              onChange={(drone_mother) => put({ drone_mother })}
              at="drone_mother"
            />
            {tooLate.includes('drones-too-late') || draft.drones_there ? (
              <TickField
                label={say('cross.drones-there')}
                value={draft.drones_there}
                onChange={(drones_there) => put({ drones_there })}
              />
            ) : null}
            {tooLate.includes('queens-too-late') || draft.virgins_there ? (
              <TickField
                label={say('cross.virgins-there')}
                value={draft.virgins_there}
                onChange={(virgins_there) => put({ virgins_there })}
              />
            ) : null}
          </div>
        </Form>
        <aside className="stack beside" aria-label={say('cross.dates')}>
          <h2>{say('cross.dates')}</h2>
          {wish === null ? null : <LanesDrawing lanes={lanesOf(wish, drawn)} small />}
          <DatePreview wish={wish} />
        </aside>
      </div>
    </section>
  );
}
