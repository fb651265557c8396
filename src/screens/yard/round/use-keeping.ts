import { stepBack } from '#actions/history/step-back.ts';
import { checkLaying } from '#actions/yard/check-laying.ts';
import type { RoundNuc } from '#questions/yard/laying-round.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { OutOfReach } from '../../link/server.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { lookWords } from '../yard-words.ts';
import type { More } from './more-sights.tsx';
import type { Another } from './other-queen.tsx';
import type { Walk } from './round-state.ts';

/** What was seen in the nuc in hand, as it is kept. */
export type Given = More & { queen_seen?: 'seen'; another?: Another };

/** Keeps looks at nucs and takes the last back; what cannot be kept is told and the nuc stays in hand. */
export function useKeeping(walk: Walk) {
  const { run, busy } = useDo();
  const orTell = async (work: () => Promise<void>) => {
    try {
      await work();
    } catch (error) {
      if (!(error instanceof OutOfReach)) throw error;
      tell(say('edge.out-of-reach'));
    }
  };
  const keep = (nuc: RoundNuc, given: Given) =>
    orTell(async () => {
      const input = { colony: nuc.id, queen: nuc.head?.id as RecordId, day: today(), ...given };
      const did = await run(checkLaying, input, { happened: true });
      if ('problems' in did) return tell(sayRefusals(did.problems));
      const words = lookWords({ sights: given.sights, queenSeen: given.queen_seen ?? null });
      walk.keep({ nuc: nuc.id, code: nuc.code, words, act: did.act });
      walk.go(walk.at + 1);
    });
  const takeBack = () =>
    orTell(async () => {
      const last = walk.kept.at(-1);
      if (last === undefined) return;
      const did = await run(stepBack, { act: last.act });
      if ('problems' in did) return tell(sayRefusals(did.problems));
      walk.takeBack(last.act);
      walk.go(walk.nucs.findIndex(({ id }) => id === last.nuc));
      tell(say('round.stepped-back', { code: last.code }));
    });
  return { keep, takeBack, busy };
}
