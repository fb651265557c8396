import { useState } from 'react';
import type { Sight } from '#domain/living/check.ts';
import { say } from '#words/say.ts';
import { NumberField, TextArea } from '../../parts/form.tsx';
import { SightChoices } from './sight-choices.tsx';

/** More about one look than one press says. */
export type More = { sights: Sight[]; cells_looked?: number; gaps?: number; words?: string };

/** Several sights at once, words, and a count of gaps in the capped brood. */
export function MoreSights({
  code,
  onKeep,
  onLeave,
}: {
  code: string;
  onKeep: (more: More) => void;
  onLeave: () => void;
}) {
  const [sights, setSights] = useState<Sight[]>([]);
  const [cells, setCells] = useState<number | null>(null);
  const [gaps, setGaps] = useState<number | null>(null);
  const [words, setWords] = useState('');
  const toggle = (sight: Sight) =>
    setSights((before) => (before.includes(sight) ? before.filter((each) => each !== sight) : [...before, sight]));
  const more: More = {
    sights,
    ...(cells === null ? {} : { cells_looked: cells }),
    ...(gaps === null ? {} : { gaps }),
    ...(words.trim() === '' ? {} : { words }),
  };
  return (
    <section className="stack asked" aria-labelledby="more">
      <h2 id="more">{say('round.more')}</h2>
      <SightChoices label={say('round.choices', { code })} chosen={sights} onChoose={toggle} />
      <div className="form">
        <div className="fields">
          <NumberField label={say('round.cells')} value={cells} onChange={setCells} at="cells_looked" />
          <NumberField label={say('round.gaps')} value={gaps} onChange={setGaps} at="gaps" />
          <TextArea label={say('round.words')} value={words} onChange={setWords} at="words" />
        </div>
      </div>
      <div className="cluster yard-buttons">
        <button type="button" className="button main" onClick={() => onKeep(more)}>
          {say('round.more-keep')}
        </button>
        <button type="button" className="button" onClick={onLeave}>
          {say('round.leave')}
        </button>
      </div>
    </section>
  );
}
