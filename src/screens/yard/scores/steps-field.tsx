import { allSteps } from '#domain/scoring/trait.ts';
import { anchorOf, type ScaleTrait, traitName } from './traits.ts';

type StepsProps = { trait: ScaleTrait; value: number | null; onPut: (value: number | null) => void };

/** One trait: a button for each step, and the sentence of the step chosen (or of all full ones). */
export function StepsField({ trait, value, onPut }: StepsProps) {
  const anchor = value === null ? null : anchorOf(trait, value);
  return (
    <fieldset className="scale">
      <legend>{traitName(trait)}</legend>
      <div className="points">
        {allSteps.map((step) => (
          <button
            key={step}
            type="button"
            className={Number.isInteger(step) ? 'point' : 'point half'}
            aria-pressed={value === step}
            onClick={() => onPut(value === step ? null : step)}
          >
            {step}
          </button>
        ))}
      </div>
      {anchor === null ? (
        <dl className="anchors">
          {[4, 3, 2, 1].map((step) => (
            <div key={step}>
              <dt>{step}</dt>
              <dd>{anchorOf(trait, step)}</dd>
            </div>
          ))}
        </dl>
      ) : (
        <p className="anchor">{anchor}</p>
      )}
    </fieldset>
  );
}
