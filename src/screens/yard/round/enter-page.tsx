import { useNavigate } from '@tanstack/react-router';
import { enterRound } from '#actions/yard/check-laying.ts';
import type { Sight } from '#domain/living/check.ts';
import { layingRound, type RoundNuc } from '#questions/yard/laying-round.ts';
import { sights } from '#records/care.ts';
import type { Day } from '#units/calendar-day.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { Asked } from '../../parts/asked.tsx';
import { DayField } from '../../parts/day-words.tsx';
import { Form, SelectField, TextArea, useDraft } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';
import { YardNav } from '../yard-nav.tsx';
import { type LineProblem, readSheetLines } from './sheet-lines.ts';
import { choices } from './sight-choices.tsx';

type Draft = { yard: string; day: Day | null; usual: Sight; otherwise: string };

const words = new Map<Sight, string>(sights.map((sight) => [sight, sayAny(`sight.${sight}`)]));

const problemWords = ({ line, code, found }: LineProblem): string => sayAny(`round.enter-${code}`, { line, found });

/** The yards that have nucs with queens. */
const yardsOf = (nucs: readonly RoundNuc[]) => [
  ...new Map(nucs.flatMap(({ yard }) => (yard === null ? [] : [[yard.id, yard.name] as const]))),
];

function Entering({ nucs }: { nucs: readonly RoundNuc[] }) {
  const navigate = useNavigate();
  const { run, problems, busy } = useDo();
  const yards = yardsOf(nucs);
  const [draft, put, clear] = useDraft<Draft>('enter-round', {
    yard: yards[0]?.[0] ?? '',
    day: today(),
    usual: 'eggs',
    otherwise: '',
  });
  const here = nucs.filter(({ yard }) => yard?.id === draft.yard);
  const read = readSheetLines(draft.otherwise, { nucs: here, words });
  const keep = async () => {
    if (read.problems.length > 0 || here.length === 0) return;
    const input = {
      day: draft.day ?? today(),
      colonies: here.map(({ id }) => id),
      usual: [draft.usual],
      otherwise: read.otherwise,
    };
    const did = await run(enterRound, input, { happened: true });
    if ('problems' in did) return;
    clear();
    tell(say('round.enter-kept', { n: here.length }));
    void navigate({ to: '/yard' });
  };
  return (
    <Form act={say('round.enter-keep')} onSubmit={keep} problems={problems} busy={busy}>
      <p>{say('round.enter-lead')}</p>
      <div className="fields">
        <SelectField
          label={say('round.enter-yard')}
          value={draft.yard}
          onChange={(yard) => put({ yard })}
          choices={yards.map(([value, name]) => ({ value: value as string, words: name }))}
        />
        <DayField label={say('round.enter-day')} value={draft.day} onChange={(day) => put({ day })} at="day" />
        <SelectField
          label={say('round.enter-usual')}
          value={draft.usual}
          onChange={(usual) => put({ usual })}
          at="usual"
          choices={choices.map((value) => ({ value, words: words.get(value) ?? value }))}
        />
        <TextArea
          label={say('round.enter-otherwise')}
          value={draft.otherwise}
          onChange={(otherwise) => put({ otherwise })}
          hint={say('round.enter-hint')}
          at="otherwise"
        />
      </div>
      {read.problems.length > 0 ? (
        <div role="alert">
          <ul className="problem">
            {read.problems.map((problem) => (
              <li key={`${problem.line} ${problem.code}`}>{problemWords(problem)}</li>
            ))}
          </ul>
        </div>
      ) : (
        <p role="status">
          {say('round.enter-reads', {
            usual: here.length - read.otherwise.length,
            what: words.get(draft.usual) ?? '',
            otherwise: read.otherwise.length,
          })}
        </p>
      )}
    </Form>
  );
}

/** Enters a round from its paper sheet by exception. */
export function EnterRoundPage() {
  const query = useAsk(layingRound, { today: today() });
  return (
    <section className="stack">
      <h1>{say('round.enter-title')}</h1>
      <YardNav />
      <Asked query={query}>
        {({ nucs }) => (nucs.length === 0 ? <p>{say('round.empty-act')}</p> : <Entering nucs={nucs} />)}
      </Asked>
    </section>
  );
}
