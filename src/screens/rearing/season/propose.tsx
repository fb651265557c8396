import { useEffect, useRef } from 'react';
import type { SeasonPlanPage } from '#questions/rearing/season/season-plan.ts';
import { say } from '#words/say.ts';
import { ProposalShown } from './proposal.tsx';
import { useProposal } from './use-proposal.ts';

type ProposeProps = { page: SeasonPlanPage };

/** Queens still to come of crosses the planner leaves alone, whose places it keeps free. */
const queensBeside = ({ standing, today }: NonNullable<SeasonPlanPage['wish']>): number =>
  (standing?.queens ?? []).filter(({ on }) => on >= (today ?? on)).reduce((sum, { queens }) => sum + queens, 0);

/** Asks for days: the planner works beside the page, tells how far it is, and can be stopped. */
export function Propose({ page }: ProposeProps) {
  const { proposing, propose, stop, clear } = useProposal();
  const { wish } = page;
  const isWorking = proposing.state === 'working';
  const isAsked = useRef(false);
  isAsked.current = isWorking || proposing.state === 'there';
  // A wish or a limit that changes under a proposal makes it another one: it is looked for again.
  useEffect(() => {
    if (isAsked.current && wish !== null) propose(wish);
  }, [wish, propose]);
  return (
    <section className="stack tight propose" aria-label={say('season.propose')}>
      <div className="cluster">
        <button
          type="button"
          className={proposing.state === 'there' ? 'button' : 'button main'}
          aria-disabled={wish === null || isWorking}
          onClick={() => {
            if (wish !== null && !isWorking) propose(wish);
          }}
        >
          {say(proposing.state === 'there' ? 'season.propose-again' : 'season.propose')}
        </button>
        {isWorking ? (
          <>
            <progress value={proposing.done} max={proposing.whole} aria-label={say('season.working')} />
            <span role="status">{say('season.working')}</span>
            <button type="button" className="button" onClick={stop}>
              {say('season.stop')}
            </button>
          </>
        ) : null}
        {wish === null ? <span className="soft">{say('season.nothing-to-plan')}</span> : null}
      </div>
      {wish !== null && queensBeside(wish) > 0 ? (
        <p className="note">{say('season.standing', { n: queensBeside(wish) })}</p>
      ) : null}
      {proposing.state === 'failed' ? <p className="problem">{say('season.failed')}</p> : null}
      {proposing.state === 'there' ? <ProposalShown {...proposing} page={page} onDone={clear} /> : null}
    </section>
  );
}
