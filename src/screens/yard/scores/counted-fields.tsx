import { valueOfReading } from '#domain/scoring/reading-value.ts';
import { warningsOfReading } from '#domain/scoring/reading-warnings.ts';
import { STRENGTH } from '#domain/scoring/trait.ts';
import type { Day } from '#units/calendar-day.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { DayField } from '../../parts/day-words.tsx';
import { ChoiceField, NumberField } from '../../parts/form.tsx';
import { sayHere } from '../../parts/problems.tsx';
import type { Entry } from './draft.ts';
import { type Readable, readingWords, testHow, traitName } from './traits.ts';

type FieldsProps = { trait: Readable; entry: Entry; onPut: (some: Entry) => void };

/** What the counts come to, and what is worth saying about them. */
export function ComesTo({ trait, entry, day = today() }: { trait: string; entry: Entry; day?: Day }) {
  const told = { trait, ...entry, day };
  const read = valueOfReading(told);
  const warnings = warningsOfReading(told, '');
  return (
    <div role="status" className="comes-to">
      {read === null ? null : (
        <p>
          <strong>{readingWords(trait, read)}</strong>
        </p>
      )}
      {warnings.map((warning) => (
        <p key={warning.code} className="late">
          {sayHere(warning)}
        </p>
      ))}
    </div>
  );
}

function BroodTest({ trait, entry, onPut }: FieldsProps) {
  const method = trait === 'hygiene' ? 'pin' : 'freeze';
  return (
    <>
      <p className="note">{testHow(method)}</p>
      <div className="fields">
        <NumberField
          label={say('score.cells-capped')}
          value={entry.among ?? null}
          onChange={(among) => onPut({ among, method })}
        />
        <NumberField
          label={say('score.cells-empty')}
          value={entry.empty_before ?? null}
          onChange={(empty_before) => onPut({ empty_before, method })}
        />
      </div>
    </>
  );
}

const Gaps = ({ entry, onPut }: FieldsProps) => (
  <div className="fields">
    <NumberField label={say('score.cells-looked')} value={entry.among ?? null} onChange={(among) => onPut({ among })} />
    <NumberField
      label={say('score.cells-gaps')}
      value={entry.counted ?? null}
      onChange={(counted) => onPut({ counted })}
    />
  </div>
);

function Mites({ entry, onPut }: FieldsProps) {
  const { method = 'wash' } = entry;
  return (
    <>
      <ChoiceField
        label={say('score.wash-how')}
        value={method as 'wash' | 'sugar'}
        onChange={(to) => onPut({ method: to })}
        choices={(['wash', 'sugar'] as const).map((value) => ({ value, words: sayAny(`score.method.${value}`) }))}
      />
      <div className="fields">
        <NumberField
          label={say('score.mites-counted')}
          value={entry.counted ?? null}
          onChange={(counted) => onPut({ counted, method })}
        />
        <NumberField
          label={say('score.bees-washed')}
          hint={say('score.bees-hint')}
          value={entry.among ?? null}
          onChange={(among) => onPut({ among, method })}
        />
      </div>
    </>
  );
}

const Fall = ({ entry, onPut }: FieldsProps) => (
  <div className="fields">
    <NumberField
      label={say('score.mites-counted')}
      value={entry.counted ?? null}
      onChange={(counted) => onPut({ counted, method: 'fall' })}
    />
    <DayField
      label={say('score.board-from')}
      value={entry.span_from ?? null}
      onChange={(span_from) => onPut({ span_from, method: 'fall' })}
    />
  </div>
);

const Honey = ({ entry, onPut }: FieldsProps) => (
  <div className="fields">
    <NumberField
      label={say('score.honey-kg')}
      unit="kg"
      hint={say('score.honey-hint')}
      value={entry.value ?? null}
      onChange={(value) => onPut({ value, method: 'weighed' })}
    />
  </div>
);

function Strength({ entry, onPut }: FieldsProps) {
  const usual = Number(today().slice(5, 7)) >= 8 ? 'before-winter' : 'after-winter';
  const { method = usual } = entry;
  return (
    <>
      <ChoiceField
        label={say('score.when-winter')}
        value={method as 'before-winter' | 'after-winter'}
        onChange={(to) => onPut({ method: to })}
        choices={(['before-winter', 'after-winter'] as const).map((value) => ({
          value,
          words: sayAny(`score.method.${value}`),
        }))}
      />
      <div className="fields">
        <NumberField
          label={say('score.combs')}
          value={entry.value ?? null}
          onChange={(value) => onPut({ value, method })}
        />
      </div>
    </>
  );
}

const fieldsOf = {
  hygiene: BroodTest,
  'hygiene-frost': BroodTest,
  solidness: Gaps,
  mites: Mites,
  'mite-fall': Fall,
  honey: Honey,
  [STRENGTH]: Strength,
} as const;

/** A trait that is counted, weighed or looked over: its few fields, and what they come to. */
export function CountedField(props: FieldsProps) {
  const Fields = props.trait === 'behaviour' ? null : fieldsOf[props.trait];
  if (Fields === null) return null;
  return (
    <fieldset className="scale">
      <legend>{traitName(props.trait)}</legend>
      <Fields {...props} />
      <ComesTo trait={props.trait} entry={props.entry} />
    </fieldset>
  );
}
