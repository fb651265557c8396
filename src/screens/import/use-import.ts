import { useQuery } from '@tanstack/react-query';
import { useCallback, useState } from 'react';
import type { ImportChoices, RowFix } from '#domain/stock-book/choices.ts';
import { type RehearsalAnswer, rehearseImport } from '#questions/stock/rehearse-import.ts';
import { postBytes } from '../link/server.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';

/** The file a person brings and what they have said about it so far; kept over a reload. */
export type Bringing = { hash: string; name: string; size: number; choices: ImportChoices };

const KEPT = 'combwright.bringing';

function keptBringing(): Bringing | null {
  const kept = sessionStorage.getItem(KEPT);
  return kept === null ? null : (JSON.parse(kept) as Bringing);
}

/** What is being brought in, with the ways to change it. */
export function useBringing() {
  const [bringing, setBringing] = useState<Bringing | null>(keptBringing);
  const keep = useCallback((next: Bringing | null) => {
    if (next === null) sessionStorage.removeItem(KEPT);
    else sessionStorage.setItem(KEPT, JSON.stringify(next));
    setBringing(next);
  }, []);
  const choose = useCallback(
    (some: Partial<ImportChoices>) =>
      bringing !== null && keep({ ...bringing, choices: { ...bringing.choices, ...some } }),
    [bringing, keep],
  );
  const mend = useCallback(
    (row: number, fix: RowFix | null) => {
      const { [row]: _, ...others } = bringing?.choices.fixes ?? {};
      choose({ fixes: fix === null ? others : { ...others, [row]: fix } });
    },
    [bringing, choose],
  );
  return { bringing, keep, choose, mend };
}

/** An address holds only so much: longer choices are uploaded and named by their hash. */
const LONGEST_IN_ADDRESS = 2_500;

/** The dress rehearsal of what is being brought in, asked again at every change. */
export function useRehearsal(bringing: Bringing | null): {
  answer: RehearsalAnswer | undefined;
  isAsking: boolean;
  error: Error | null;
} {
  const json = JSON.stringify(bringing?.choices ?? {});
  const isLong = json.length > LONGEST_IN_ADDRESS;
  const kept = useQuery({
    queryKey: ['kept-choices', json],
    queryFn: () => postBytes<{ hash: string }>('/api/upload', new Blob([json])),
    enabled: isLong,
    staleTime: Number.POSITIVE_INFINITY,
  });
  const said = isLong ? { choices_kept: kept.data?.hash ?? '' } : { choices: bringing?.choices ?? {} };
  const enabled = bringing !== null && (!isLong || kept.data !== undefined);
  const query = useAsk(rehearseImport, { hash: bringing?.hash ?? '', today: today(), ...said }, enabled);
  return { answer: query.data, isAsking: query.isFetching || kept.isFetching, error: query.error ?? kept.error };
}
