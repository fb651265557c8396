import type { TubeEnd } from '#domain/semen/ledger-line.ts';
import type { StoryLine } from '#questions/semen/tube-story.ts';
import { say, sayAny } from '#words/say.ts';
import { ChoiceField } from '../parts/form.tsx';

const ends = ['filled', 'other'] as const satisfies readonly TubeEnd[];

/** Steps by which semen goes in or out through one end: of a tube with layers the end says whose drones they were. */
export const throughAnEnd: ReadonlySet<StoryLine['step']> = new Set([
  'collected',
  'received',
  'diluent',
  'drawn-over',
  'dose',
  'lost',
  'broken',
  'sent',
]);

/** The end of a tube semen goes in or out by. */
export const EndField = ({
  label = say('semen.step.end'),
  value,
  onChange,
}: {
  label?: string;
  value: TubeEnd;
  onChange: (end: TubeEnd) => void;
}) => (
  <ChoiceField
    label={label}
    value={value}
    onChange={onChange}
    choices={ends.map((end) => ({ value: end, words: sayAny(`semen.end.${end}`) }))}
  />
);
