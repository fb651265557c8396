import type { UseQueryResult } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { say } from '#words/say.ts';
import { OutOfReach, RefusedByServer } from '../link/server.ts';
import { sayRefusals } from './problems.tsx';

/** Shows the answer of a question; while it comes, a quiet mark; when it cannot come, why. */
export function Asked<A>({ query, children }: { query: UseQueryResult<A>; children: (answer: A) => ReactNode }) {
  if (query.data !== undefined) return children(query.data);
  if (query.error instanceof RefusedByServer) return <p role="alert">{sayRefusals(query.error.problems)}</p>;
  if (query.error instanceof OutOfReach) return <p role="alert">{say('edge.out-of-reach')}</p>;
  if (query.error !== null) throw query.error;
  return (
    <p className="soft" role="status">
      {say('edge.looking')}
    </p>
  );
}
