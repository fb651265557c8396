import type { Moment } from '#units/moment.ts';

/** Now, with the zone of the place. */
export interface Clock {
  now(): Moment;
}

/** Random bytes, for ids and seeds. */
export interface Random {
  bytes(n: number): Uint8Array;
}
