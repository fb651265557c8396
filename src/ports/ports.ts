import type { Clock, Random } from './clock.ts';
import type { Compute } from './compute.ts';
import type { Store } from './store.ts';

/** Everything the outside world offers to actions and questions. Built in main/ and nowhere else. */
export type Ports = { store: Store; compute: Compute; clock: Clock; random: Random };
