import { useState } from 'react';
import { checkLaying } from '#actions/yard/check-laying.ts';
import type { Sight } from '#domain/living/check.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { DayField } from '../../parts/day-words.tsx';
import { type Choice, Form, SelectField, TextArea } from '../../parts/form.tsx';
import { type Another, OtherQueen } from '../round/other-queen.tsx';
import { SightChoices } from '../round/sight-choices.tsx';
import type { ActFormProps } from './act-form.ts';
import { happened, useColonyAct } from './use-colony-act.ts';

const seenChoices = ['', 'seen', 'not-seen', 'unmarked', 'other'] as const;
type Seen = (typeof seenChoices)[number];
const words = (value: Seen): Choice<Seen> => ({ value, words: value === '' ? '–' : sayAny(`sight.seen.${value}`) });

/** One look into this colony, also afterwards for an earlier day. */
export function LookForm({ leaf, onDone }: ActFormProps) {
  const { run, problems, busy, done } = useColonyAct(onDone);
  const [day, setDay] = useState<Day | null>(today());
  const [sights, setSights] = useState<Sight[]>([]);
  const [seen, setSeen] = useState<Seen>('');
  const [said, setSaid] = useState('');
  const [asking, setAsking] = useState(false);
  const isOther = sights.includes('another-queen') || seen === 'other' || seen === 'unmarked';
  const keep = async (another?: Another) => {
    const input = {
      colony: leaf.nuc.id,
      ...(leaf.nuc.head === null ? {} : { queen: leaf.nuc.head.id as RecordId }),
      day: day ?? today(),
      sights,
      ...(seen === '' ? {} : { queen_seen: seen }),
      ...(said.trim() === '' ? {} : { words: said }),
      ...(another === undefined ? {} : { another }),
    };
    setAsking(false);
    done(await run(checkLaying, input, happened), say('colony.look-kept'));
  };
  if (asking) return <OtherQueen onKeep={(another) => void keep(another)} onLeave={() => setAsking(false)} />;
  return (
    <Form
      act={say('round.more-keep')}
      onSubmit={() => (isOther ? setAsking(true) : keep())}
      problems={problems}
      busy={busy}
      onLeave={onDone}
    >
      <SightChoices
        label={say('round.choices', { code: leaf.nuc.code })}
        chosen={sights}
        onChoose={(sight) =>
          setSights((was) => (was.includes(sight) ? was.filter((each) => each !== sight) : [...was, sight]))
        }
      />
      <div className="fields">
        <DayField label={say('colony.on')} value={day} onChange={setDay} at="day" />
        <SelectField label={say('colony.queen')} value={seen} onChange={setSeen} choices={seenChoices.map(words)} />
        <TextArea label={say('round.words')} value={said} onChange={setSaid} at="words" />
      </div>
    </Form>
  );
}
