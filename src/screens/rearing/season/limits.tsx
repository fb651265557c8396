import { useState } from 'react';
import { changeSeason, takeDaysOff, workOnDays } from '#actions/rearing/season/set-season.ts';
import { usualCosts } from '#domain/rearing/reality/repair.ts';
import { usualReckoning } from '#domain/rearing/season/season-wish.ts';
import type { SeasonPlanPage } from '#questions/rearing/season/season-plan.ts';
import type { Entry } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { DayField } from '../../parts/day-words.tsx';
import { Form, TextField } from '../../parts/form.tsx';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { spanWords } from '../../today/task-words.ts';
import { EditDay, EditNumber, type Keep } from './edit-cell.tsx';

type Season = NonNullable<SeasonPlanPage['season']>;

function useKeep(season: Season) {
  const { run } = useDo();
  return <T,>(set: (value: T) => Partial<Entry<'season'>>): Keep<T> =>
    async (value) => {
      const did = await run(changeSeason, { season: season.id, set: set(value) });
      return 'problems' in did ? did.problems : [];
    };
}

const LIMITS = ['queens_per_operator', 'operators', 'cells', 'incubator_places', 'nucs', 'combs_per_mother'] as const;

/** Lengths that say how long a place is taken, with the usual ones. */
const LENGTHS = [
  ['cell_days', usualReckoning.cellDays],
  ['nuc_days', usualReckoning.nucDays],
] as const;

/** What trouble counts in queens, with the usual figures. */
const WORTHS = [
  ['visit_worth', usualReckoning.visitWorth],
  ['repair_graft', usualCosts.graft],
  ['repair_larva', usualCosts.larva],
  ['repair_drones', usualCosts.otherDrones],
  ['repair_day', usualCosts.dayMoved],
  ['repair_queen', usualCosts.queenLost],
] as const;

/** What trouble counts: visits, and what repairs of a day cost. */
export function Weighed({ season }: { season: Season }) {
  const keep = useKeep(season);
  return (
    <section className="sheet stack tight" aria-labelledby="weighed">
      <h2 id="weighed">{say('season.weighed')}</h2>
      <dl className="limits">
        {WORTHS.map(([field, usual]) => (
          <div key={field}>
            <dt>{say(`season.${field}`)}</dt>
            <dd>
              <EditNumber
                label={say(`season.${field}`)}
                value={season[field] ?? usual}
                onKeep={keep((value: number | null) => ({ [field]: value }))}
                hint={say('season.unit-queens')}
              />
            </dd>
          </div>
        ))}
      </dl>
      <p className="note">{say('season.weighed-how')}</p>
    </section>
  );
}

/** What is scarce: each figure edited where it stands; empty is no limit. */
export function Limits({ season }: { season: Season }) {
  const keep = useKeep(season);
  return (
    <section className="sheet stack tight" aria-labelledby="scarce">
      <h2 id="scarce">{say('season.scarce')}</h2>
      <dl className="limits">
        <div>
          <dt>{say('season.from')}</dt>
          <dd>
            <EditDay
              label={say('season.from')}
              value={season.from_on}
              onKeep={keep((day: Day | null) => (day === null ? {} : { from_on: day }))}
            />
          </dd>
        </div>
        <div>
          <dt>{say('season.to')}</dt>
          <dd>
            <EditDay
              label={say('season.to')}
              value={season.to_on}
              onKeep={keep((day: Day | null) => (day === null ? {} : { to_on: day }))}
            />
          </dd>
        </div>
        {LIMITS.map((field) => (
          <div key={field}>
            <dt>{say(`season.${field}`)}</dt>
            <dd>
              <EditNumber
                label={say(`season.${field}`)}
                value={season[field]}
                onKeep={keep((value: number | null) => ({ [field]: value }))}
              />
            </dd>
          </div>
        ))}
        {LENGTHS.map(([field, usual]) => (
          <div key={field}>
            <dt>{say(`season.${field}`)}</dt>
            <dd>
              <EditNumber
                label={say(`season.${field}`)}
                value={season[field] ?? usual}
                onKeep={keep((value: number | null) => ({ [field]: value }))}
                hint={say('season.unit-days')}
              />
            </dd>
          </div>
        ))}
        <div>
          <dt>{say('season.sure-of')}</dt>
          <dd>
            <EditNumber
              label={say('season.sure-of')}
              value={Math.round((season.sure ?? 0.9) * 100)}
              onKeep={keep((value: number | null) => ({ sure: value === null ? null : value / 100 }))}
              hint="%"
            />
          </dd>
        </div>
      </dl>
      <label className="tick">
        <input
          type="checkbox"
          checked={season.one_yard === 1}
          onChange={({ target }) => void keep((value: 0 | 1) => ({ one_yard: value }))(target.checked ? 1 : 0)}
        />
        {say('season.one-yard')}
      </label>
      <p className="note">{say('season.limits-how')}</p>
    </section>
  );
}

function DayOffForm() {
  const { run, problems, busy } = useDo();
  const [from, setFrom] = useState<Day | null>(null);
  const [to, setTo] = useState<Day | null>(null);
  const [why, setWhy] = useState('');
  const submit = async () => {
    if (from === null) return;
    const did = await run(takeDaysOff, { from_on: from, to_on: to ?? from, why: why.trim() || null });
    if ('problems' in did) return;
    setFrom(null);
    setTo(null);
    setWhy('');
  };
  return (
    <Form act={say('season.add-days-off')} problems={problems} busy={busy} onSubmit={submit}>
      <div className="fields">
        <DayField label={say('season.off-from')} value={from} onChange={setFrom} at="from_on" needed />
        <DayField label={say('season.off-to')} value={to} onChange={setTo} at="to_on" />
        <TextField label={say('season.off-why')} value={why} onChange={setWhy} at="why" />
      </div>
    </Form>
  );
}

/** Days nobody can work: no graft, no insemination, no cells out on them. */
export function DaysOff({ daysOff }: Pick<SeasonPlanPage, 'daysOff'>) {
  const { run, busy } = useDo();
  const back = async (id: RecordId) => {
    const did = await run(workOnDays, { day_off: id });
    if ('problems' in did) tell(sayRefusals(did.problems));
  };
  return (
    <section className="sheet stack tight" aria-labelledby="days-off">
      <h2 id="days-off">{say('season.days-off')}</h2>
      {daysOff.length === 0 ? <p className="soft">{say('season.no-days-off')}</p> : null}
      <ul className="days-off">
        {daysOff.map(({ id, from_on, to_on, why }) => {
          const days = spanWords(from_on, to_on);
          return (
            <li key={id}>
              <strong>{days}</strong> {why === null ? null : <span className="soft">{why}</span>}
              <button
                type="button"
                className="button quiet"
                aria-disabled={busy}
                aria-label={say('season.work-on', { days })}
                onClick={() => void back(id)}
              >
                ✕
              </button>
            </li>
          );
        })}
      </ul>
      <details>
        <summary>{say('season.add-days-off')}</summary>
        <DayOffForm />
      </details>
    </section>
  );
}
