import type { Sight } from '#domain/living/check.ts';
import { say, sayAny } from '#words/say.ts';
import { SightDrawing } from './sight-drawing.tsx';

/** What can be seen, in the order of a season: nothing yet, eggs, caps, trouble. */
export const choices: readonly Sight[] = [
  'no-eggs',
  'eggs',
  'worker-caps',
  'drone-caps',
  'several-in-a-cell',
  'queen-cells',
  'another-queen',
  'queen-gone',
  'own-workers',
  'not-opened',
];

/** Flat caps against domed caps is the sign that decides: it is said under the drawing too. */
const beside: Partial<Record<Sight, 'sight.flat' | 'sight.domed'>> = {
  'worker-caps': 'sight.flat',
  'drone-caps': 'sight.domed',
};

type ChoicesProps = {
  label: string;
  /** What is ticked so far, when several are chosen; left out when one press decides. */
  chosen?: readonly Sight[];
  busy?: boolean;
  onChoose: (sight: Sight) => void;
};

/** Drawn choices of at least 15 mm each. */
export function SightChoices({ label, chosen, busy = false, onChoose }: ChoicesProps) {
  return (
    <fieldset className="sight-choices">
      <legend className="visually-hidden">{label}</legend>
      {choices.map((sight) => {
        const sign = beside[sight];
        return (
          <button
            key={sight}
            type="button"
            className="sight-choice"
            aria-pressed={chosen === undefined ? undefined : chosen.includes(sight)}
            aria-disabled={busy}
            onClick={() => (busy ? undefined : onChoose(sight))}
          >
            <SightDrawing sight={sight} />
            <span>
              {sayAny(`sight.${sight}`)}
              {sign === undefined ? null : <span className="note"> {say(sign)}</span>}
            </span>
          </button>
        );
      })}
    </fieldset>
  );
}
