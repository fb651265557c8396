import { useState } from 'react';
import { scoreColony } from '#actions/yard/score-colony.ts';
import type { ScoredNuc } from '#questions/yard/score-cards.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { ChoiceField, Form } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';
import { TwoFacts } from '../round/nuc-card.tsx';
import { anchorOf, points, type Trait, traitName, traits } from './traits.ts';

type Seen = 'seen' | 'not-seen' | 'unmarked' | '';
const seenWords = {
  seen: 'score.seen',
  'not-seen': 'score.not-seen',
  unmarked: 'score.unmarked',
  '': 'score.not-said',
} as const;

type ScaleProps = { trait: Trait; value: number | null; onPut: (value: number | null) => void };

/** One trait: a button for each point, and the sentence of the number chosen (or of all full ones). */
function Scale({ trait, value, onPut }: ScaleProps) {
  const anchor = value === null ? null : anchorOf(trait, value);
  return (
    <fieldset className="scale">
      <legend>{traitName(trait)}</legend>
      <div className="points">
        {points.map((point) => (
          <button
            key={point}
            type="button"
            className="point"
            aria-pressed={value === point}
            title={anchorOf(trait, point) ?? undefined}
            onClick={() => onPut(value === point ? null : point)}
          >
            {point}
          </button>
        ))}
      </div>
      {anchor === null ? (
        <dl className="anchors">
          {[4, 3, 2, 1].map((point) => (
            <div key={point}>
              <dt>{point}</dt>
              <dd>{anchorOf(trait, point)}</dd>
            </div>
          ))}
        </dl>
      ) : (
        <p className="anchor">{anchor}</p>
      )}
    </fieldset>
  );
}

/** The last score of each trait: shown only once today's card is kept, so that nobody copies it. */
function Before({ nuc }: { nuc: ScoredNuc }) {
  if (nuc.todays.length === 0 || nuc.last.length === 0) return null;
  return (
    <dl className="now" aria-label={say('score.before')}>
      {nuc.last.map(({ trait, value, day }) => (
        <div key={trait}>
          <dt>
            {say('score.before')}: {traitName(trait)}
          </dt>
          <dd>{say('score.last', { value, day: shortDay(day) })}</dd>
        </div>
      ))}
    </dl>
  );
}

/** The card of one colony. */
export function ScoreCard({ nuc, person, onNext }: { nuc: ScoredNuc; person: string; onNext: () => void }) {
  const { run, problems, busy } = useDo();
  const [read, setRead] = useState<Partial<Record<Trait, number | null>>>({});
  const [seen, setSeen] = useState<Seen>('');
  const readings = traits.flatMap((trait) => {
    const value = read[trait] ?? null;
    return value === null ? [] : [{ trait, value }];
  });
  const keep = async () => {
    if (readings.length === 0) return tell(say('score.nothing'));
    const by = person === '' ? {} : { person: person as RecordId };
    const same = seen === '' ? {} : { queen_seen: seen };
    const input = { colony: nuc.id, day: today(), readings, ...by, ...same };
    const did = await run(scoreColony, input, { happened: true });
    if ('problems' in did) return;
    tell(say('score.kept', { code: nuc.code }));
    setRead({});
  };
  return (
    <article className="stack score-card" aria-label={nuc.code}>
      {nuc.head === null ? null : <TwoFacts nuc={nuc} queen={nuc.head} />}
      <Form act={say('score.keep')} onSubmit={keep} problems={problems} busy={busy}>
        <ChoiceField
          label={say('score.same-queen')}
          value={seen}
          onChange={setSeen}
          choices={(['seen', 'not-seen', 'unmarked', ''] as const).map((value) => ({
            value,
            words: sayAny(seenWords[value]),
          }))}
        />
        {traits.map((trait) => (
          <Scale
            key={trait}
            trait={trait}
            value={read[trait] ?? null}
            onPut={(value) => setRead((before) => ({ ...before, [trait]: value }))}
          />
        ))}
      </Form>
      <Before nuc={nuc} />
      <button type="button" className="button round-button" onClick={onNext}>
        {say('round.on-one')} →
      </button>
    </article>
  );
}
