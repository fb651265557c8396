import { useState } from 'react';
import { type NursingAnswer, nursing } from '#questions/yard/nursing.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { Caution } from '../cautions.tsx';
import { SightDrawing } from '../round/sight-drawing.tsx';
import { YardNav } from '../yard-nav.tsx';
import { Excluders } from './excluders.tsx';
import { NurseForm } from './nurse-form.tsx';
import { OpenNursing } from './open-nursing.tsx';
import { ReleaseForm } from './release-form.tsx';
import { Unjudged } from './unjudged.tsx';

/** Queens done at the bench who are neither nursed nor home. */
function Waiting({ told }: { told: NursingAnswer }) {
  const [open, setOpen] = useState<'nurse' | 'release' | null>(null);
  if (told.waiting.length === 0) return null;
  return (
    <section className="stack" aria-labelledby="waiting">
      <h2 id="waiting">{say('nursing.waiting', { n: told.waiting.length })}</h2>
      <div className="cluster">
        <button type="button" className="button main" onClick={() => setOpen('nurse')}>
          {say('nursing.start')}
        </button>
        <button type="button" className="button" onClick={() => setOpen('release')}>
          {say('nursing.release')}
        </button>
      </div>
      {open === 'nurse' ? <NurseForm waiting={told.waiting} onDone={() => setOpen(null)} /> : null}
      {open === 'release' ? (
        <ReleaseForm queens={told.waiting} queenless={told.queenless} onDone={() => setOpen(null)} />
      ) : null}
    </section>
  );
}

function Empty() {
  const [open, setOpen] = useState(false);
  if (open) return <NurseForm waiting={[]} onDone={() => setOpen(false)} />;
  return (
    <section className="empty">
      <p>{say('nursing.empty')}</p>
      <p className="drawn-sights" aria-hidden="true">
        <SightDrawing sight="queen-gone" />
        <span>→</span>
        <SightDrawing sight="not-opened" />
      </p>
      <p>{say('nursing.empty-act')}</p>
      <button type="button" className="button main" onClick={() => setOpen(true)}>
        {say('nursing.put-in')}
      </button>
    </section>
  );
}

const isEmpty = ({ open, waiting, unjudged, excluders }: NursingAnswer) =>
  open.length + waiting.length + unjudged.length + excluders.length === 0;

/** Nursing: who rests with nurse bees, in which cage, and which nuc each goes home to. */
export function NursingPage() {
  const query = useAsk(nursing, { today: today() });
  return (
    <section className="stack">
      <h1>{say('nursing.title')}</h1>
      <YardNav />
      <p>{say('nursing.lead')}</p>
      <Asked query={query}>
        {(told) =>
          isEmpty(told) ? (
            <Empty />
          ) : (
            <>
              <Waiting told={told} />
              {told.open.map((care) => (
                <OpenNursing key={care.id} care={care} queenless={told.queenless} />
              ))}
              <Excluders excluders={told.excluders} />
              <Unjudged unjudged={told.unjudged} />
            </>
          )
        }
      </Asked>
      <Caution of="stings" />
    </section>
  );
}
