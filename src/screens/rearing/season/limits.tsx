import { useState } from 'react';
import { changeSeason, takeDaysOff, workOnDays } from '#actions/rearing/season/set-season.ts';
import { usualCosts } from '#domain/rearing/reality/repair.ts';
import { usualReckoning } from '#domain/rearing/season/season-wish.ts';
import type { SeasonPlanPage } from '#questions/rearing/season/season-plan.ts';
import type { Entry } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, type WordId } from '#words/say.ts';
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

type NumberOf = { field: NumberField; usual?: number; unit?: WordId };
type NumberField =
  | 'queens_per_operator'
  | 'operators'
  | 'cells'
  | 'incubator_places'
  | 'nucs'
  | 'combs_per_mother'
  | 'cell_days'
  | 'nuc_days'
  | 'visit_worth'
  | 'repair_graft'
  | 'repair_larva'
  | 'repair_drones'
  | 'repair_day'
  | 'repair_queen';

/** What is scarce, and how long a place is taken; those without a usual figure are no limit where they are empty. */
const LIMITS: readonly NumberOf[] = [
  { field: 'queens_per_operator' },
  { field: 'operators' },
  { field: 'cells' },
  { field: 'incubator_places' },
  { field: 'nucs' },
  { field: 'combs_per_mother' },
  { field: 'cell_days', usual: usualReckoning.cellDays, unit: 'season.unit-days' },
  { field: 'nuc_days', usual: usualReckoning.nucDays, unit: 'season.unit-days' },
];

const inQueens = (field: NumberField, usual: number): NumberOf => ({ field, usual, unit: 'season.unit-queens' });

/** What trouble counts in queens. */
const WORTHS: readonly NumberOf[] = [
  inQueens('visit_worth', usualReckoning.visitWorth),
  inQueens('repair_graft', usualCosts.graft),
  inQueens('repair_larva', usualCosts.larva),
  inQueens('repair_drones', usualCosts.otherDrones),
  inQueens('repair_day', usualCosts.dayMoved),
  inQueens('repair_queen', usualCosts.queenLost),
];

/** Said beside a figure nobody set. */
const Usual = () => <span className="note"> {say('season.usual')}</span>;

/** Numbers of a season, each edited where it stands; one left empty shows its usual figure and says so. */
function Numbers({ season, of }: { season: Season; of: readonly NumberOf[] }) {
  const keep = useKeep(season);
  return of.map(({ field, usual, unit }) => {
    return (
      <div key={field}>
        <dt>
          {say(`season.${field}`)}
          {usual !== undefined && season[field] === null ? <Usual /> : null}
        </dt>
        <dd>
          <EditNumber
            label={say(`season.${field}`)}
            value={season[field]}
            {...(usual === undefined ? {} : { usual })}
            onKeep={keep((value: number | null) => ({ [field]: value }))}
            {...(unit === undefined ? {} : { hint: say(unit) })}
          />
        </dd>
      </div>
    );
  });
}

/** What trouble counts: visits, and what repairs of a day cost. */
export function Weighed({ season }: { season: Season }) {
  return (
    <section className="sheet stack tight" aria-labelledby="weighed">
      <h2 id="weighed">{say('season.weighed')}</h2>
      <dl className="limits">
        <Numbers season={season} of={WORTHS} />
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
        <Numbers season={season} of={LIMITS} />
        <div>
          <dt>
            {say('season.sure-of')}
            {season.sure === null ? <Usual /> : null}
          </dt>
          <dd>
            <EditNumber
              label={say('season.sure-of')}
              value={season.sure === null ? null : Math.round(season.sure * 100)}
              usual={90}
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
