import { useCallback, useMemo, useState } from 'react';
import type { RoundAnswer, RoundNuc } from '#questions/yard/laying-round.ts';
import type { RecordId } from '#units/record-id.ts';

/** What was kept of one nuc on this walk: the words, and the act that steps back. */
export type KeptLook = { nuc: RecordId; code: string; words: string; act: RecordId };

/** A walk through the nucs of a round: its order stays as it was at the start, whatever is kept on the way. */
export type Walk = {
  nucs: readonly RoundNuc[];
  at: number;
  nuc: RoundNuc | null;
  kept: readonly KeptLook[];
  isKept(nuc: RecordId): boolean;
  go(to: number): void;
  keep(look: KeptLook): void;
  takeBack(act: RecordId): void;
  /** Begins anew with other nucs. */
  begin(ids: readonly string[]): void;
};

/** The walk over the nucs due, frozen when the page was opened. */
export function useWalk({ nucs }: RoundAnswer): Walk {
  const [ids, setIds] = useState<readonly string[]>(() => nucs.filter(({ due }) => due).map(({ id }) => id));
  const [at, setAt] = useState(0);
  const [kept, setKept] = useState<readonly KeptLook[]>([]);
  const byId = useMemo(() => new Map<string, RoundNuc>(nucs.map((nuc) => [nuc.id, nuc])), [nucs]);
  // A queen who went on the way (another, or gone) leaves her nuc without a head; it stays in the walk as it was seen last.
  const [seen, setSeen] = useState<ReadonlyMap<string, RoundNuc>>(byId);
  if ([...byId].some(([id, nuc]) => seen.get(id) !== nuc)) setSeen(new Map([...seen, ...byId]));
  const walked = useMemo(() => ids.flatMap((id) => seen.get(id) ?? []), [ids, seen]);
  const go = useCallback((to: number) => setAt(Math.max(0, Math.min(to, ids.length))), [ids.length]);
  return {
    nucs: walked,
    at,
    nuc: walked[at] ?? null,
    kept,
    isKept: (nuc) => kept.some((each) => each.nuc === nuc),
    go,
    keep: (look) => setKept((before) => [...before, look]),
    takeBack: (act) => setKept((before) => before.filter((each) => each.act !== act)),
    begin: (to) => {
      setIds(to);
      setAt(0);
      setKept([]);
    },
  };
}
