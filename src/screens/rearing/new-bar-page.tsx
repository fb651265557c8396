import { useNavigate } from '@tanstack/react-router';
import { recordGraft } from '#actions/rearing/record-graft.ts';
import { season } from '#questions/rearing/season.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { ChooseQueen, ChooseRecord } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { Form, NumberField, TextField, useDraft } from '../parts/form.tsx';
import { ChooseCross } from './choose-cross.tsx';

type Range = { from: number | null; to: number | null; dam: string | null };
type Draft = {
  code: string;
  day: Day | null;
  hours: number | null;
  cross: string | null;
  starter: string | null;
  ranges: Range[];
};

const id = (text: string | null) => text as RecordId | null;

type RangeProps = {
  range: Range;
  index: number;
  onChange: (range: Range) => void;
  onTakeOut: (() => void) | undefined;
};

function RangeField({ range, index, onChange, onTakeOut }: RangeProps) {
  return (
    <li className="range-field">
      <NumberField
        label={say('bar.from')}
        value={range.from}
        onChange={(from) => onChange({ ...range, from })}
        at={`ranges.${index}.position_from`}
      />
      <NumberField
        label={say('bar.to')}
        value={range.to}
        onChange={(to) => onChange({ ...range, to })}
        at={`ranges.${index}.position_to`}
      />
      <ChooseQueen
        label={say('bar.larvae-of')}
        value={range.dam}
        onChange={(dam) => onChange({ ...range, dam })}
        at={`ranges.${index}.dam`}
        needed
      />
      {onTakeOut === undefined ? null : (
        <button type="button" className="button quiet" onClick={onTakeOut}>
          {say('cross.take-out')}
        </button>
      )}
    </li>
  );
}

/** The next range begins after the last one. */
const nextRange = (ranges: readonly Range[]): Range => ({ from: (ranges.at(-1)?.to ?? 0) + 1, to: null, dam: null });

/** Writes down a grafted bar. */
export function NewBarPage() {
  const navigate = useNavigate();
  const { run, problems, busy } = useDo();
  const bars = useAsk(season, { today: today() }).data?.bars ?? [];
  const colonies = useAsk(chooseOthers, {}).data?.colonies ?? [];
  const [draft, put, clear] = useDraft<Draft>('new-bar', {
    code: '',
    day: today(),
    hours: 18,
    cross: null,
    starter: null,
    ranges: [{ from: 1, to: 20, dam: null }],
  });
  const code = draft.code || say('bar.code-next', { n: bars.length + 1 });
  const submit = async () => {
    const graft = {
      code,
      day: draft.day ?? ('' as Day),
      larva_age_hours: draft.hours,
      cross: id(draft.cross),
      starter: id(draft.starter),
    };
    const ranges = draft.ranges.map(({ from, to, dam }) => ({
      position_from: from ?? 0,
      position_to: to ?? 0,
      dam: (dam ?? '') as RecordId,
    }));
    const did = await run(recordGraft, { graft, ranges }, { happened: true });
    if ('problems' in did) return;
    clear();
    void navigate({ to: '/rearing/graft/$graft', params: { graft: did.result?.id ?? '' } });
  };
  const change = (index: number, range: Range) =>
    put({ ranges: draft.ranges.map((each, i) => (i === index ? range : each)) });
  return (
    <section className="stack">
      <h1>{say('bar.new')}</h1>
      <p>{say('bar.what')}</p>
      <Form
        act={say('bar.keep')}
        problems={problems}
        busy={busy}
        onSubmit={submit}
        onLeave={() => {
          clear();
          void navigate({ to: '/rearing' });
        }}
      >
        <div className="fields">
          <TextField
            label={say('bar.code')}
            value={code}
            onChange={(text) => put({ code: text })}
            at="graft.code"
            code
            needed
          />
          <DayField label={say('bar.day')} value={draft.day} onChange={(day) => put({ day })} at="graft.day" needed />
          <NumberField
            label={say('bar.larva-age')}
            unit={say('bar.hours')}
            hint={say('bar.larva-age-hint')}
            value={draft.hours}
            onChange={(hours) => put({ hours })}
            at="graft.larva_age_hours"
          />
          <ChooseCross
            label={say('rearing.for-cross')}
            value={draft.cross}
            onChange={(cross) => put({ cross })}
            at="graft.cross"
          />
          <ChooseRecord
            label={say('bar.starter')}
            items={colonies}
            value={draft.starter}
            onChange={(starter) => put({ starter })}
            at="graft.starter"
          />
        </div>
        <fieldset>
          <legend>{say('bar.positions')}</legend>
          <ul className="range-fields">
            {draft.ranges.map((range, index) => (
              <RangeField
                key={index}
                range={range}
                index={index}
                onChange={(next) => change(index, next)}
                onTakeOut={
                  draft.ranges.length === 1
                    ? undefined
                    : () => put({ ranges: draft.ranges.filter((_, i) => i !== index) })
                }
              />
            ))}
          </ul>
          <button
            type="button"
            className="button"
            onClick={() => put({ ranges: [...draft.ranges, nextRange(draft.ranges)] })}
          >
            {say('bar.one-more')}
          </button>
        </fieldset>
      </Form>
    </section>
  );
}
