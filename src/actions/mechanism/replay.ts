import type { Ports } from '#ports/ports.ts';
import type { Act } from '#ports/store.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { actions } from '../registry.ts';
import { perform } from './perform.ts';

/** What became of one act a device sent. A parked act waits until a person decides. */
export type Replayed =
  | { id: string; outcome: 'applied' | 'again'; seq: number; result: unknown }
  | { id: string; outcome: 'parked'; problems: readonly Problem[] };

async function one(act: Act, ports: Ports): Promise<Replayed> {
  const action = actions.get(act.name);
  const done =
    action === undefined
      ? { problems: [refuse('name', 'unknown-action', { name: act.name })] }
      : await perform(action, act, ports);
  if ('problems' in done) {
    await ports.store.park(act, done.problems);
    return { id: act.id, outcome: 'parked', problems: done.problems };
  }
  return { id: act.id, outcome: done.again ? 'again' : 'applied', seq: done.seq, result: done.result };
}

/** Does the acts of a device in their order, each once, never stopping at one: what cannot be done is parked. */
export async function replay(acts: readonly Act[], ports: Ports): Promise<Replayed[]> {
  const out: Replayed[] = [];
  for (const act of acts) out.push(await one({ ...act, happened: act.happened ?? true }, ports));
  return out;
}
