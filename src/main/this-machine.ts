import { randomBytes } from 'node:crypto';
import type { Clock, Random } from '#ports/clock.ts';
import { epochOf, momentAt } from '#units/moment.ts';
import { uuid7 } from '#units/record-id.ts';

/** The clock of this machine, in its own zone. */
export const machineClock: Clock = {
  now: () => momentAt(Date.now(), Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC'),
};

export const machineRandom: Random = { bytes: (n) => new Uint8Array(randomBytes(n)) };

/** A new id from this machine's clock and random bytes. */
export const newMachineId = () => uuid7(epochOf(machineClock.now()), machineRandom.bytes(10));
