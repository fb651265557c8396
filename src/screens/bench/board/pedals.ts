import type { Pedal } from '#domain/insemination/pedal.ts';

/** Which key (`KeyboardEvent.code`) each pedal sends. A single pedal is `one`; a board with two or three has its places. */
export type Pedals = Readonly<Partial<Record<Pedal, string>>>;

const NAME = 'combwright.pedals';

/** The space bar stands for the pedal until one is learned. */
const usual: Pedals = { one: 'Space' };

const isPedal = (name: string): name is Pedal => ['one', 'left', 'middle', 'right'].includes(name);

/** The pedals this device has learned. */
export function learnedPedals(): Pedals {
  const kept = localStorage.getItem(NAME);
  if (kept === null) return usual;
  const entries = Object.entries(JSON.parse(kept) as Record<string, unknown>);
  return Object.fromEntries(entries.filter(([name, code]) => isPedal(name) && typeof code === 'string')) as Pedals;
}

/** Keeps what was learned; nothing = the space bar again. */
export function learnPedals(pedals: Pedals | null): void {
  if (pedals === null || Object.keys(pedals).length === 0) localStorage.removeItem(NAME);
  else localStorage.setItem(NAME, JSON.stringify(pedals));
}

/** The pedal a key stands for, if any. The space bar stays a pedal where only one was learned. */
export function pedalOf(code: string, pedals: Pedals): Pedal | null {
  for (const [name, learned] of Object.entries(pedals)) if (learned === code && isPedal(name)) return name;
  return code === 'Space' ? 'one' : null;
}
