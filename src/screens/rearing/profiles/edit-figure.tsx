import { useState } from 'react';
import { setFigures } from '#actions/rearing/profile/set-figures.ts';
import type { Figure } from '#domain/rearing/figure.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { type FigureKind, figureOf } from '#domain/rearing/profile-figures.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { Form, NumberField, TextField } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';
import { profileWords } from '../profile-words.ts';
import { keptOf, typedOf, unitWords, valueWords } from './figure-groups.ts';

type EditProps = {
  profile: RecordId;
  /** What the set is made from. */
  base: BiologyProfile | null;
  kind: FigureKind;
  figure: Figure;
  onDone: () => void;
};

/** Ages and usual days have no range: they are one number. */
const hasRange = ({ key }: FigureKind): boolean => /^(timings|survivals|yields)\./.test(key);

/** What a figure is in the set a set is made from, in words. */
function baseWords(base: BiologyProfile, kind: FigureKind) {
  const { value, basis, source } = figureOf(base, kind.key);
  const rests = [sayAny(`basis.${basis}`), source === basis ? '' : source].filter((words) => words !== '');
  return { base: profileWords(base.name), value: valueWords(value, kind), basis: rests.join(', ') };
}

/** Value, range and source of one figure of a set of one's own; emptied, it is that of the set it is made from again. */
export function EditFigure({ profile, base, kind, figure, onDone }: EditProps) {
  const { run, problems, busy } = useDo();
  const [value, setValue] = useState<number | null>(typedOf(figure.value, kind));
  const [low, setLow] = useState<number | null>(typedOf(figure.low, kind));
  const [high, setHigh] = useState<number | null>(typedOf(figure.high, kind));
  const [source, setSource] = useState('');
  const unit = unitWords(kind);
  const ranged = hasRange(kind);
  const back = async (to: BiologyProfile) => {
    const did = await run(setFigures, { profile, figures: [], back: [kind.key] });
    if ('problems' in did) return;
    tell(say('profiles.back-again', { figure: sayAny(`figure.${kind.key}`), ...baseWords(to, kind) }));
    onDone();
  };
  const submit = async () => {
    if (value === null && base !== null) return back(base);
    const kept = (typed: number | null) => keptOf(typed ?? Number.NaN, kind);
    const range = ranged && low !== null && high !== null ? { low: kept(low), high: kept(high) } : {};
    const entry = { figure: kind.key, value: value === null ? -1 : kept(value), ...range };
    const named = source.trim() === '' ? {} : { source };
    const did = await run(setFigures, { profile, figures: [{ ...entry, ...named }], back: [] });
    if ('problems' in did) return;
    tell(say('profiles.figures-kept', { n: 1 }));
    onDone();
  };
  return (
    <Form
      act={say('profiles.keep-figure')}
      label={sayAny(`figure.${kind.key}`)}
      problems={problems}
      busy={busy}
      onSubmit={submit}
      onLeave={onDone}
    >
      <div className="fields">
        <NumberField
          label={say('profiles.value')}
          unit={unit}
          value={value}
          onChange={setValue}
          at="figures.0.value"
          {...(base === null ? { needed: true } : { hint: say('profiles.empty-hint', baseWords(base, kind)) })}
        />
        {ranged ? (
          <>
            <NumberField label={say('profiles.low')} unit={unit} value={low} onChange={setLow} at="figures.0.low" />
            <NumberField label={say('profiles.high')} unit={unit} value={high} onChange={setHigh} at="figures.0.high" />
          </>
        ) : null}
        <TextField
          label={say('profiles.source')}
          hint={say('profiles.source-hint')}
          value={source}
          onChange={setSource}
          at="figures.0.source"
          whole
        />
      </div>
    </Form>
  );
}
