import type { BenchEvent } from '#domain/insemination/bench-board.ts';
import type { Panel } from './panels.tsx';

/** A bench event before it got its time. */
export type Untimed = BenchEvent extends infer E ? (E extends unknown ? Omit<E, 'at'> : never) : never;
export type Send = (event: Untimed) => void;

/** Letters that are events of the board. Digits, pedals and labels are heard elsewhere. */
export const eventKeys: Readonly<Record<string, Untimed>> = {
  T: { kind: 'tip' },
  C: { kind: 'capillary' },
  R: { kind: 'read-back' },
  P: { kind: 'pause' },
  F: { kind: 'flag' },
  '+': { kind: 'dose', change: 0.5 },
  '=': { kind: 'dose', change: 0.5 },
  '-': { kind: 'dose', change: -0.5 },
  '−': { kind: 'dose', change: -0.5 },
};

/** Letters that change how the board looks and sounds, save, or leave it. */
export const actKeys: Readonly<Record<string, string>> = {
  Escape: 'leave',
  L: 'theme',
  S: 'sound',
  V: 'voice',
  E: 'export',
  K: 'camera',
  H: 'hear',
};

/** Letters that open a panel. */
export const panelKeys: Readonly<Record<string, Panel>> = {
  '0': 'exceptions',
  N: 'not-done',
  Enter: 'label',
  M: 'mark',
  G: 'gas',
  D: 'fill',
  '?': 'keys',
  O: 'menu',
};
