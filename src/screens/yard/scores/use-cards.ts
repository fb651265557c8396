import { useState } from 'react';
import { stepBack } from '#actions/history/step-back.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

/** What was kept, and the act that steps back. */
export type Kept = { act: RecordId; what: string };

type KeptCard = Kept & { nuc: string; code: string; words: string };

/** A walk from colony to colony: where it is, what was kept, the last of it stepped back. */
export function useCards(nucs: readonly { id: string; code: string }[]) {
  const { run, busy } = useDo();
  const [chosen, setChosen] = useState<string | null>(null);
  const [kept, setKept] = useState<readonly KeptCard[]>([]);
  const found = nucs.findIndex(({ id }) => id === chosen);
  const at = Math.max(0, found);
  const go = (to: number) => {
    const target = nucs[Math.max(0, Math.min(to, nucs.length - 1))];
    if (target !== undefined) setChosen(target.id);
  };
  const back = async () => {
    const last = kept.at(-1);
    if (last === undefined) return;
    const did = await run(stepBack, { act: last.act });
    if ('problems' in did) return tell(sayRefusals(did.problems));
    setKept((before) => before.filter(({ act }) => act !== last.act));
    setChosen(last.nuc);
    tell(say('round.stepped-back', { code: last.code }));
  };
  return {
    at,
    kept,
    busy,
    go,
    choose: setChosen,
    back: () => void back(),
    keep: (nuc: { id: string; code: string }, { act, what }: Kept) =>
      setKept((before) => [...before, { act, what, words: what, nuc: nuc.id, code: nuc.code }]),
  };
}
