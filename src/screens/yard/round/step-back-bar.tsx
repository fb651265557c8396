import { say } from '#words/say.ts';

/** A walk as the bar needs it: where it is, how many nucs there are, what was kept. */
type Walked = {
  at: number;
  nucs: { length: number };
  kept: readonly { code: string; words: string }[];
  go(to: number): void;
};

/** Earlier nuc, step the last look back, next nuc: in reach for the whole round. */
export function StepBackBar({ walk, onBack, busy }: { walk: Walked; onBack: () => void; busy: boolean }) {
  const last = walk.kept.at(-1);
  return (
    <div className="step-back-bar">
      <button
        type="button"
        className="button round-button"
        disabled={walk.at === 0}
        onClick={() => walk.go(walk.at - 1)}
        aria-label={say('round.back-one')}
      >
        ←
      </button>
      <button
        type="button"
        className="button round-button grows"
        disabled={last === undefined || busy}
        onClick={onBack}
        title={say('round.step-back')}
      >
        <span>
          {last === undefined ? (
            say('round.nothing-kept')
          ) : (
            <>
              <span className="note">{say('round.last-kept', { code: last.code, what: last.words })}</span>
              <br />
              {say('round.step-back')}
            </>
          )}
        </span>
      </button>
      <button
        type="button"
        className="button round-button"
        disabled={walk.at >= walk.nucs.length}
        onClick={() => walk.go(walk.at + 1)}
        aria-label={say('round.on-one')}
      >
        →
      </button>
    </div>
  );
}
