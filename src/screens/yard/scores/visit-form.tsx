import { useState } from 'react';
import { recordVisit } from '#actions/yard/record-visit.ts';
import type { TodaysVisit } from '#questions/yard/score-cards.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { ChoiceField, Form, NumberField, SelectField } from '../../parts/form.tsx';
import { Caution } from '../cautions.tsx';
import { type Readable, readables } from './traits.ts';

const weathers = ['sunny', 'cloudy', 'hot', 'windy', 'cold', 'thundery', 'rainy'] as const;
const flows = ['none', 'some', 'strong'] as const;
const badWeathers: readonly string[] = ['windy', 'cold', 'thundery', 'rainy'];

type Weather = (typeof weathers)[number] | '';
type Flow = (typeof flows)[number] | '';

/** What the conditions of a visit do to behaviour, in words. */
export function ConditionWarnings({ weather, flow }: Pick<TodaysVisit, 'weather' | 'flow'>) {
  return (
    <>
      {weather !== null && badWeathers.includes(weather) ? (
        <p className="late">{say('score.weather-bad', { weather: sayAny(`score.weather.${weather}`) })}</p>
      ) : null}
      {flow === 'none' ? <p className="late">{say('score.flow-none')}</p> : null}
    </>
  );
}

const KEPT = 'combwright.score-reads';

/** What is read on every card of this device, kept from visit to visit. */
export function useReads(): [readonly Readable[], (reads: readonly Readable[]) => void] {
  const [reads, setReads] = useState<readonly Readable[]>(() => {
    const kept = localStorage.getItem(KEPT);
    return kept === null ? ['behaviour'] : (JSON.parse(kept) as Readable[]);
  });
  const put = (to: readonly Readable[]) => {
    localStorage.setItem(KEPT, JSON.stringify(to));
    setReads(to);
  };
  return [reads, put];
}

type ReadsProps = { reads: readonly Readable[]; onReads: (reads: readonly Readable[]) => void };

/** What is read today: a press each. */
export function ReadsField({ reads, onReads }: ReadsProps) {
  return (
    <fieldset className="spring-choices reads">
      <legend>{say('score.read')}</legend>
      {readables.map((each) => (
        <button
          key={each}
          type="button"
          className="spring-choice"
          aria-pressed={reads.includes(each)}
          onClick={() => onReads(reads.includes(each) ? reads.filter((one) => one !== each) : [...reads, each])}
        >
          {sayAny(`score.read.${each}`)}
        </button>
      ))}
    </fieldset>
  );
}

/** The usual cautions of the tests chosen. */
export function TestCautions({ reads }: { reads: readonly Readable[] }) {
  return (
    <>
      {reads.includes('mites') ? <Caution of="wash" /> : null}
      {reads.includes('hygiene-frost') ? <Caution of="frost" /> : null}
    </>
  );
}

type VisitProps = ReadsProps & {
  yards: readonly { id: string; name: string }[];
  yard: string;
  onYard: (yard: string) => void;
  people: readonly { id: string; name: string }[];
};

const choicesOf = (name: string, values: readonly string[]) => [
  ...values.map((value) => ({ value, words: sayAny(`score.${name}.${value}`) })),
  { value: '', words: say('score.not-said') },
];

/** Begins a visit: which yard, who judges, weather and flow, and what is read on every card. */
export function VisitForm({ yards, yard, onYard, people, reads, onReads }: VisitProps) {
  const { run, problems, busy } = useDo();
  const [person, setPerson] = useState('');
  const [weather, setWeather] = useState<Weather>('');
  const [flow, setFlow] = useState<Flow>('');
  const [warmth, setWarmth] = useState<number | null>(null);
  const begin = () =>
    run(
      recordVisit,
      {
        yard: yard as RecordId,
        day: today(),
        ...(person === '' ? {} : { person: person as RecordId }),
        ...(weather === '' ? {} : { weather }),
        ...(flow === '' ? {} : { flow }),
        ...(warmth === null ? {} : { temperature_c: warmth }),
      },
      { happened: true },
    );
  return (
    <section className="stack score-card" aria-labelledby="visit">
      <h2 id="visit">{say('score.visit')}</h2>
      <Form act={say('score.begin')} onSubmit={begin} problems={problems} busy={busy}>
        <div className="fields">
          <SelectField
            label={say('colony.yard')}
            value={yard}
            onChange={onYard}
            choices={yards.map(({ id, name }) => ({ value: id, words: name }))}
          />
          <SelectField
            label={say('score.by')}
            value={person}
            onChange={setPerson}
            choices={[
              { value: '', words: say('score.nobody') },
              ...people.map(({ id, name }) => ({ value: id, words: name })),
            ]}
          />
          <NumberField label={say('score.temperature')} unit="°C" value={warmth} onChange={setWarmth} />
        </div>
        <ChoiceField
          label={say('score.weather')}
          value={weather}
          onChange={(to) => setWeather(to as Weather)}
          choices={choicesOf('weather', weathers)}
        />
        <ChoiceField
          label={say('score.flow')}
          value={flow}
          onChange={(to) => setFlow(to as Flow)}
          choices={choicesOf('flow', flows)}
        />
        <ConditionWarnings weather={weather === '' ? null : weather} flow={flow === '' ? null : flow} />
        <ReadsField reads={reads} onReads={onReads} />
      </Form>
      <TestCautions reads={reads} />
    </section>
  );
}
