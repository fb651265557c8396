import type { Moment } from '#units/moment.ts';
import { microlitres } from '#units/volume.ts';
import type { DroneCatch } from './drone-source.ts';
import type { LedgerAct, LedgerLine } from './ledger-line.ts';

/** Minutes after nine on one bench day, as a moment. For tests and examples only. */
export function minute(minutes: number, day = '2027-06-12'): Moment {
  const time = `${String(9 + Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
  return `${day}T${time}:00+02:00[Europe/Berlin]` as Moment;
}

/** A catch of drones of one mother. */
export const catchOf = (id: string, queen: string): DroneCatch => ({
  id,
  mothers: [{ of: { kind: 'mother', queen }, share: null }],
  strangers: 0,
});

type Written = Partial<Omit<LedgerLine, 'act' | 'tube'>>;

/** A small ledger written line by line, a minute apart, ids `1`, `2`, … unless told. */
export function ledgerBook() {
  const lines: LedgerLine[] = [];
  const write = (tube: string, act: LedgerAct, told: Written = {}): string => {
    const n = lines.length + 1;
    const line = { id: String(n), tube, at: minute(n), person: null, corrects: null, act, ...told };
    lines.push(line);
    return line.id;
  };
  return {
    lines,
    write,
    collected: (tube: string, from: string, volume: number, drones: number | null = null, told: Written = {}) =>
      write(
        tube,
        {
          kind: 'collected',
          catch: from,
          of: null,
          microlitres: microlitres(volume),
          drones,
          volumes: null,
          end: 'filled',
        },
        told,
      ),
    dose: (tube: string, volume: number, end: 'filled' | 'other' = 'filled', told: Written = {}) =>
      write(tube, { kind: 'dose', microlitres: microlitres(volume), end }, told),
  };
}
