import { useState } from 'react';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { ChooseQueen } from '../../parts/choose-record.tsx';
import { NumberField, SelectField, TextField } from '../../parts/form.tsx';

/** The queen found instead, as `check-laying` takes her. */
export type Another = {
  queen?: RecordId;
  code?: string;
  colour?: 'white' | 'yellow' | 'red' | 'green' | 'blue' | 'other' | 'none';
  disc?: number;
};
const colours = ['none', 'white', 'yellow', 'red', 'green', 'blue', 'other'] as const;

type OtherProps = { onKeep: (another: Another | undefined) => void; onLeave: () => void };

/** Asks which queen was found: a new one with what is seen on her, or one of the book. Nothing has to be said. */
export function OtherQueen({ onKeep, onLeave }: OtherProps) {
  const [code, setCode] = useState('');
  const [colour, setColour] = useState<(typeof colours)[number]>('none');
  const [disc, setDisc] = useState<number | null>(null);
  const [known, setKnown] = useState<string | null>(null);
  const another: Another =
    known === null
      ? { colour, ...(code.trim() === '' ? {} : { code: code.trim() }), ...(disc === null ? {} : { disc }) }
      : { queen: known as RecordId };
  return (
    <section className="stack asked" aria-labelledby="other">
      <h2 id="other">{say('round.other-title')}</h2>
      <p>{say('round.other-lead')}</p>
      <div className="form">
        <div className="fields">
          <SelectField
            label={say('round.other-colour')}
            value={colour}
            onChange={setColour}
            choices={colours.map((value) => ({ value, words: sayAny(`mark.${value}`) }))}
          />
          <NumberField label={say('round.other-disc')} value={disc} onChange={setDisc} />
          <TextField label={say('round.other-code')} value={code} onChange={setCode} code />
          <ChooseQueen label={say('round.other-known')} value={known} onChange={setKnown} />
        </div>
      </div>
      <div className="cluster yard-buttons">
        <button type="button" className="button main" onClick={() => onKeep(another)}>
          {say('round.other-keep')}
        </button>
        <button type="button" className="button" onClick={() => onKeep(undefined)}>
          {say('round.other-skip')}
        </button>
        <button type="button" className="button" onClick={onLeave}>
          {say('round.leave')}
        </button>
      </div>
    </section>
  );
}
