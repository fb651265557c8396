import type { QueenFace } from '#domain/marking/queen-face.ts';
import { say } from '#words/say.ts';
import { calledOf } from '../../parts/identity-band.tsx';
import { lookedFor } from './nuc-card.tsx';

type EarlyProps = {
  days: number;
  queen: QueenFace;
  onSame: () => void;
  onOther: () => void;
  onUnsure: () => void;
  onLeave: () => void;
};

/** Eggs too soon after the insemination: is it the same queen? */
export function EarlyEggs({ days, queen, onSame, onOther, onUnsure, onLeave }: EarlyProps) {
  return (
    <section className="stack asked" aria-labelledby="early">
      <h2 id="early">{say('round.early-title', { days })}</h2>
      <p>{say('round.early', { mark: lookedFor(queen), code: calledOf(queen) })}</p>
      <div className="cluster yard-buttons">
        <button type="button" className="button main" onClick={onSame}>
          {say('round.early-same')}
        </button>
        <button type="button" className="button" onClick={onOther}>
          {say('round.early-other')}
        </button>
        <button type="button" className="button" onClick={onUnsure}>
          {say('round.early-unsure')}
        </button>
        <button type="button" className="button" onClick={onLeave}>
          {say('round.leave')}
        </button>
      </div>
    </section>
  );
}
