import { memo } from 'react';
import { ruleOf } from '#domain/scoring/trait.ts';
import { MOST_FOR_EXACT } from '#domain/worth/breeding-values.ts';
import type { TraitChoice, WorthChoices } from '#domain/worth/choices.ts';
import { publishedFor, publishedSets } from '#domain/worth/published.ts';
import type { StockTold, TraitTold } from '#domain/worth/stock-told.ts';
import { say, sayAny } from '#words/say.ts';
import { NumberField, SelectField, TickField } from '../../parts/form.tsx';
import { ChoicesPairs } from './choices-pairs.tsx';
import { Estimate } from './estimate.tsx';
import { traitName } from './worth-words.ts';

type FormProps = {
  stock: StockTold;
  choices: WorthChoices;
  onChoices: (choices: WorthChoices) => void;
};

type PutTrait = (trait: string, some: Partial<TraitChoice>) => void;

/** A fieldset of one trait: whether it counts, and what one unit more is worth. */
function TraitRow({ stock, choices, onChoices, of, put }: FormProps & { of: TraitTold; put: PutTrait }) {
  const { trait, records: n } = of;
  const chosen = choices.traits.find((each) => each.trait === trait);
  const toggle = (on: boolean) =>
    onChoices({
      ...choices,
      traits: stock.traits.flatMap((each) => {
        const known = choices.traits.find((one) => one.trait === each.trait);
        if (each !== of) return known ?? [];
        return on ? of.usual : [];
      }),
    });
  return (
    <li className="trait-row">
      <TickField label={traitName(trait)} value={chosen !== undefined} onChange={toggle} />
      <span className="note">{say('worth.records', { n })}</span>
      {chosen === undefined ? null : (
        <NumberField
          label={say('worth.weight-of', { trait: traitName(trait) })}
          unit={sayAny(`worth.per.${ruleOf(trait).unit}`)}
          value={chosen.weight}
          onChange={(weight) => put(trait, { weight: weight ?? 0 })}
        />
      )}
    </li>
  );
}

/** The variances of one trait: named, from a paper or one’s own, every number open to change. */
function TraitNumbers({ choice, put }: { choice: TraitChoice; put: PutTrait }) {
  const { trait, worker, queen, correlation, spread, from } = choice;
  const sets = publishedSets.filter((set) => set.judged || set.traits[trait] !== undefined).map(({ name }) => name);
  const take = (name: string) => {
    const set = publishedSets.find((each) => each.name === name);
    if (set !== undefined) put(trait, { ...publishedFor(set, trait), from: name });
  };
  const own = (some: Partial<TraitChoice>) => put(trait, { ...some, from: 'own' });
  const names = sets.includes(from) ? sets : [...sets, from];
  return (
    <fieldset>
      <legend>{traitName(trait)}</legend>
      <div className="fields">
        <SelectField
          label={say('worth.set')}
          value={from}
          onChange={take}
          choices={names.map((value) => ({ value, words: sayAny(`worth.set.${value}`) }))}
        />
        <NumberField label={say('worth.worker-part')} value={worker} onChange={(v) => own({ worker: v ?? 0 })} />
        <NumberField label={say('worth.queen-part')} value={queen} onChange={(v) => own({ queen: v ?? 0 })} />
        <NumberField label={say('worth.link')} value={correlation} onChange={(v) => own({ correlation: v ?? 0 })} />
        <NumberField
          label={say('worth.spread')}
          value={Number(spread.toPrecision(4))}
          onChange={(v) => own({ spread: v ?? 0 })}
        />
      </div>
    </fieldset>
  );
}

/** Choices with another way to work reliabilities out; `''` = as the size allows. */
function withReliability({ reliability: _, ...choices }: WorthChoices, kind: string): WorthChoices {
  return kind === 'exact' || kind === 'approximate' ? { ...choices, reliability: kind } : choices;
}

/** Choices before worth is worked out: traits with weights, variances, where 0 is, how yard-years and lines are taken. Not drawn again while work goes on. */
export const ChoicesForm = memo(function ChoicesForm(props: FormProps) {
  const { stock, choices, onChoices } = props;
  const put: PutTrait = (trait, some) =>
    onChoices({
      ...choices,
      traits: choices.traits.map((each) => (each.trait === trait ? { ...each, ...some } : each)),
    });
  return (
    <div className="form worth-choices">
      <section className="stack tight" aria-labelledby="worth-traits">
        <h2 id="worth-traits">{say('worth.traits')}</h2>
        <p className="note">{say('worth.traits-what')}</p>
        <ul className="trait-rows">
          {stock.traits.map((of) => (
            <TraitRow key={of.trait} {...props} of={of} put={put} />
          ))}
        </ul>
      </section>
      <details className="stack tight">
        <summary>{say('worth.variances')}</summary>
        <p>{say('worth.variances-what')}</p>
        <p className="note">{say('worth.definition')}</p>
        <p className="note">{say('worth.spread-what')}</p>
        {choices.traits.map((choice) => (
          <TraitNumbers key={choice.trait} choice={choice} put={put} />
        ))}
        <ChoicesPairs choices={choices} onChoices={onChoices} />
        <Estimate choices={choices} onChoices={onChoices} />
      </details>
      <div className="fields">
        <SelectField
          label={say('worth.reference')}
          value={String(choices.reference ?? '')}
          onChange={(value) => onChoices({ ...choices, reference: value === '' ? null : Number(value) })}
          choices={[
            { value: '', words: say('worth.reference-none') },
            ...stock.years.map(({ year, queens }) => ({
              value: String(year),
              words: say('worth.reference-year', { year: String(year), n: queens }),
            })),
          ]}
        />
        <SelectField
          label={say('worth.reliabilities')}
          value={choices.reliability ?? ''}
          onChange={(kind) => onChoices(withReliability(choices, kind))}
          choices={['', 'exact', 'approximate'].map((value) => ({
            value,
            words: sayAny(`worth.reliabilities.${value === '' ? 'usual' : value}`, { n: MOST_FOR_EXACT }),
          }))}
        />
      </div>
      <TickField
        label={say('worth.random')}
        value={choices.random}
        onChange={(random) => onChoices({ ...choices, random })}
      />
      <TickField
        label={say('worth.lines')}
        value={choices.lines}
        onChange={(lines) => onChoices({ ...choices, lines })}
      />
      <TickField
        label={say('worth.open-drones')}
        value={choices.open ?? false}
        onChange={(open) => onChoices({ ...choices, open })}
      />
      {(['tester', 'method'] as const).map((effect) =>
        stock.toldApart[effect] ? (
          <TickField
            key={effect}
            label={say(`worth.${effect}`)}
            value={choices[effect] ?? false}
            onChange={(value) => onChoices({ ...choices, [effect]: value })}
          />
        ) : (
          <p key={effect} className="note">
            {say(`worth.${effect}-not`)}
          </p>
        ),
      )}
    </div>
  );
});
