import { useMemo, useState } from 'react';
import type { ColonyLeaf } from '#questions/yard/colony.ts';
import { say, type WordId } from '#words/say.ts';
import { useKeys } from '../../shell/keys.ts';
import type { ActFormProps } from './act-form.ts';
import { EditForm } from './edit-form.tsx';
import { EndForm } from './end-form.tsx';
import { LetInForm } from './let-in-form.tsx';
import { LookForm } from './look-form.tsx';
import { MoveForm } from './move-form.tsx';
import { SplitForm } from './split-form.tsx';
import { UniteForm } from './unite-form.tsx';

const acts: readonly { key: string; words: WordId; Form: (props: ActFormProps) => React.ReactNode }[] = [
  { key: 'look', words: 'colony.look', Form: LookForm },
  { key: 'let-in', words: 'colony.let-in', Form: LetInForm },
  { key: 'move', words: 'colony.move', Form: MoveForm },
  { key: 'unite', words: 'colony.unite', Form: UniteForm },
  { key: 'split', words: 'colony.split', Form: SplitForm },
  { key: 'end', words: 'colony.end', Form: EndForm },
  { key: 'edit', words: 'colony.edit', Form: EditForm },
];

/** What can be done with a colony; one form at a time. */
export function ColonyActs({ leaf }: { leaf: ColonyLeaf }) {
  const [open, setOpen] = useState<string | null>(null);
  useKeys(useMemo(() => ({ N: () => setOpen('look'), E: () => setOpen('edit') }), []));
  const act = acts.find(({ key }) => key === open);
  return (
    <div className="stack">
      <div className="cluster">
        {acts.map(({ key, words }) => (
          <button
            key={key}
            type="button"
            className={key === 'look' ? 'button main' : 'button'}
            aria-expanded={key === open}
            onClick={() => setOpen(key === open ? null : key)}
          >
            {say(words)}
          </button>
        ))}
      </div>
      {act === undefined ? null : <act.Form leaf={leaf} onDone={() => setOpen(null)} />}
    </div>
  );
}
