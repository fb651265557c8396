import { useNavigate } from '@tanstack/react-router';
import { recordColony } from '#actions/stock/record-colony.ts';
import { yards } from '#questions/yard/yards.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { ChooseRecord } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { type Choice, Form, NumberField, SelectField, TextField, useDraft } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { YardNav } from './yard-nav.tsx';

const forms = ['nuc', 'full', 'starter', 'finisher', 'bank', 'drone-holder'] as const;
export type ColonyForm = (typeof forms)[number];
/** What a colony can be, the commonest here first. */
export const formChoices: readonly Choice<ColonyForm>[] = forms.map((value) => ({
  value,
  words: sayAny(`colony.form.${value}`),
}));

type Draft = { code: string; form: ColonyForm; since: Day | null; yard: string | null; spot: number | null };
const fresh: Draft = { code: '', form: 'nuc', since: null, yard: null, spot: null };

/** The yards to choose from. */
export function useYards() {
  const { data } = useAsk(yards, { today: today() });
  return (data?.yards ?? []).flatMap(({ yard, nucs }) =>
    yard === null ? [] : [{ id: yard.id, code: yard.name, nucs }],
  );
}

/** Writes down a colony or nuc and where it stands. */
export function NewColonyPage() {
  const navigate = useNavigate();
  const { run, problems, busy } = useDo();
  const [draft, put, clear] = useDraft('new-colony', fresh);
  const items = useYards();
  const { code, form, since, yard, spot } = draft;
  const keep = async () => {
    const place = yard === null ? {} : { yard: yard as RecordId, ...(spot === null ? {} : { spot }) };
    const did = await run(recordColony, { colony: { code, form, since }, ...place });
    if ('problems' in did) return;
    clear();
    tell(say('colony.kept', { code }));
    void navigate({ to: '/yard/colony/$id', params: { id: did.result.id } });
  };
  const leave = () => {
    clear();
    void navigate({ to: '/yard' });
  };
  return (
    <section className="stack">
      <h1>{say('yard.new-colony')}</h1>
      <YardNav />
      <Form act={say('colony.keep')} onSubmit={keep} problems={problems} busy={busy} onLeave={leave}>
        <div className="fields">
          <TextField
            label={say('colony.code')}
            value={code}
            onChange={(to) => put({ code: to })}
            at="colony.code"
            needed
            code
          />
          <SelectField
            label={say('colony.form')}
            value={form}
            onChange={(to) => put({ form: to })}
            at="colony.form"
            choices={formChoices}
          />
          <DayField label={say('colony.since')} value={since} onChange={(to) => put({ since: to })} at="colony.since" />
          <ChooseRecord
            label={say('colony.yard')}
            items={items}
            value={yard}
            onChange={(to) => put({ yard: to })}
            at="yard"
          />
          <NumberField label={say('colony.spot')} value={spot} onChange={(to) => put({ spot: to })} at="spot" />
        </div>
      </Form>
    </section>
  );
}
