import '../../style/round.css';
import { Link, useParams } from '@tanstack/react-router';
import { useMemo } from 'react';
import { layingRound, type RoundAnswer } from '#questions/yard/laying-round.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { viewing } from '../../bench/board/legibility.ts';
import { withInput } from '../../link/server.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { useKeys } from '../../shell/keys.ts';
import { Caution } from '../cautions.tsx';
import { YardNav } from '../yard-nav.tsx';
import { TwoFacts } from './nuc-card.tsx';
import { NucInHand } from './nuc-in-hand.tsx';
import { RoundEnd } from './round-end.tsx';
import { useWalk } from './round-state.ts';
import { StepBackBar } from './step-back-bar.tsx';
import { useKeeping } from './use-keeping.ts';
import { useSwipe } from './use-swipe.ts';

/** One walk over the nucs of a round. */
function Walking({ round, yard }: { round: RoundAnswer; yard: RecordId | undefined }) {
  const walk = useWalk(round);
  const { keep, takeBack, busy } = useKeeping(walk);
  const swipe = useSwipe({ onLeft: () => walk.go(walk.at + 1), onRight: () => walk.go(walk.at - 1) });
  useKeys({ ArrowLeft: () => walk.go(walk.at - 1), ArrowRight: () => walk.go(walk.at + 1) });
  const { nuc } = walk;
  const all = () => walk.begin(round.nucs.map(({ id }) => id));
  if (walk.nucs.length === 0) return <NothingDue nucs={round.nucs.length} onAll={all} />;
  return (
    <div className="round" {...swipe}>
      {nuc === null ? (
        <RoundEnd walk={walk} round={round} onAll={all} yard={yard} />
      ) : (
        <article className="nuc-in-hand" key={nuc.id}>
          <p className="round-at">
            {say('round.of-yard', {
              n: walk.at + 1,
              of: walk.nucs.length,
              yard: nuc.yard?.name ?? say('yard.no-yard'),
            })}
            {walk.isKept(nuc.id) ? ' ●' : ''}
          </p>
          {nuc.head === null ? null : <TwoFacts nuc={nuc} queen={nuc.head} />}
          <NucInHand nuc={nuc} round={round} busy={busy} onKeep={(given) => void keep(nuc, given)} />
        </article>
      )}
      <StepBackBar walk={walk} onBack={() => void takeBack()} busy={busy} />
    </div>
  );
}

function NothingDue({ nucs, onAll }: { nucs: number; onAll: () => void }) {
  return (
    <section className="empty">
      <p>{say('round.empty')}</p>
      <p>{say('round.empty-act')}</p>
      {nucs === 0 ? (
        <Link to="/yard" className="button main">
          {say('yard.yards')}
        </Link>
      ) : (
        <button type="button" className="button main" onClick={onAll}>
          {say('round.open-all')}
        </button>
      )}
    </section>
  );
}

/** The laying round: one nuc a screen, in walking order. */
export function RoundPage() {
  const { yard } = useParams({ strict: false }) as { yard?: string };
  const asked = { today: today(), ...(yard === undefined ? {} : { yard: yard as RecordId }) };
  const query = useAsk(layingRound, asked);
  const sheet = withInput('/api/paper/round-sheet', asked);
  useKeys(useMemo(() => ({ P: () => void window.open(sheet) }), [sheet]));
  return (
    <section
      className="stack round-page"
      style={{ '--mm': `${viewing().pixelsPerMillimetre}px` } as React.CSSProperties}
    >
      <div className="spread">
        <h1>{say('round.title')}</h1>
        <div className="cluster">
          <a href={sheet} target="_blank" rel="noreferrer" className="button">
            {say('yard.sheet')} <kbd>P</kbd>
          </a>
          <Link to="/yard/round/enter" className="button">
            {say('round.enter')}
          </Link>
        </div>
      </div>
      <YardNav />
      <Asked query={query}>{(round) => <Walking round={round} yard={asked.yard} key={yard ?? 'all'} />}</Asked>
      <Caution of="stings" />
    </section>
  );
}
