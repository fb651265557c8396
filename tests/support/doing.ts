import { perform } from '#actions/mechanism/perform.ts';
import { actions } from '#actions/registry.ts';
import type { Ports } from '#ports/ports.ts';
import type { Act, Done, Refused, Store } from '#ports/store.ts';
import type { Moment } from '#units/moment.ts';
import { type RecordId, uuid7 } from '#units/record-id.ts';
import { clock, noon } from './databases.ts';

let n = 0;
/** A new id, in order, the same on every run. */
export const newId = (): RecordId => uuid7(1_810_000_000_000 + n++, new Uint8Array(10).fill(n % 251));

const noCompute: Ports['compute'] = {
  run: () => Promise.reject(new Error('this test computes nothing outside')),
};

export const portsOver = (store: Store, compute = noCompute): Ports => ({
  store,
  compute,
  clock,
  random: { bytes: (count) => new Uint8Array(count).fill(7) },
});

export type Doing = { happened?: boolean; seen?: number; device?: string; done?: Moment; id?: RecordId };

/** Does one act through the same road as every screen and command. */
export async function tryTo(store: Store, name: string, input: unknown, doing: Doing = {}): Promise<Done | Refused> {
  const action = actions.get(name);
  if (action === undefined) throw new Error(`no action ${name}`);
  const act: Act = { id: doing.id ?? newId(), name, input, done: doing.done ?? noon, ...doing };
  return perform(action, act, portsOver(store));
}

/** Does one act that must succeed, and gives its result's id. */
export async function does(store: Store, name: string, input: unknown, doing: Doing = {}): Promise<RecordId> {
  const done = await tryTo(store, name, input, doing);
  if ('problems' in done) throw new Error(`${name}: ${JSON.stringify(done.problems)}`);
  return (done.result as { id: RecordId }).id;
}

/** The id of the act with the given number. */
export async function actNumbered(store: Store, seq: number): Promise<RecordId> {
  const found = (await store.acts({})).find((each) => each.seq === seq);
  if (found === undefined) throw new Error(`no act ${seq}`);
  return found.id;
}
