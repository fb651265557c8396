import { useCallback, useEffect, useRef, useState } from 'react';
import { computeInWorker } from '#compute/web/in-worker.ts';
import type { LimitName } from '#domain/rearing/season/clash.ts';
import type { SeasonProposal } from '#domain/rearing/season/season-proposal.ts';
import type { SeasonWish } from '#domain/rearing/season/season-wish.ts';

/** How far a proposal is: nothing asked, being worked out, there, with what stands in the way where it is short, or failed. */
export type Proposing =
  | { state: 'idle' }
  | { state: 'working'; done: number; whole: number }
  | { state: 'there'; wish: SeasonWish; proposal: SeasonProposal; clash: LimitName[] | null | 'looking' }
  | { state: 'failed' };

/** The same wish gives the same proposal. */
const SEED = 1;
const MILLISECONDS = 1500;

const isStopped = (error: unknown) => error instanceof Error && error.name === 'AbortError';

/** Works a season out in a worker of its own; the page stays free, and it can be stopped at any time. */
export function useProposal(): { proposing: Proposing; propose(wish: SeasonWish): void; stop(): void; clear(): void } {
  const [proposing, setProposing] = useState<Proposing>({ state: 'idle' });
  const running = useRef<AbortController | null>(null);
  const stop = useCallback(() => {
    running.current?.abort();
    running.current = null;
    setProposing({ state: 'idle' });
  }, []);
  useEffect(() => () => running.current?.abort(), []);
  const work = useCallback(async (wish: SeasonWish) => {
    running.current?.abort();
    const control = new AbortController();
    running.current = control;
    setProposing({ state: 'working', done: 0, whole: 5 });
    const progress = (done: number, whole: number) => setProposing({ state: 'working', done, whole });
    const { signal } = control;
    try {
      const facts = { wish, seed: SEED, milliseconds: MILLISECONDS };
      const proposal = await computeInWorker.run<SeasonProposal>('season-plan', facts, { progress, signal });
      const isShort = proposal.queens < proposal.wanted;
      setProposing({ state: 'there', wish, proposal, clash: isShort ? 'looking' : null });
      if (!isShort) return;
      const clash = await computeInWorker.run<LimitName[] | null>('season-clash', wish, { signal });
      setProposing({ state: 'there', wish, proposal, clash });
    } catch (error) {
      if (!isStopped(error)) setProposing({ state: 'failed' });
    }
  }, []);
  const propose = useCallback((wish: SeasonWish) => void work(wish), [work]);
  return { proposing, propose, stop, clear: stop };
}
