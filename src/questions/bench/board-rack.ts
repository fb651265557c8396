import type { BenchAct, RackTube } from '#domain/insemination/bench-board.ts';
import { tubeFit } from '#domain/insemination/tube-fit.ts';
import { type DroneCatch, sourceKey } from '#domain/semen/drone-source.ts';
import type { LedgerLine, Tube } from '#domain/semen/ledger-line.ts';
import type { MixingAssumption } from '#domain/semen/origins.ts';
import { useFirst } from '#domain/semen/use-first.ts';
import type { DroneSide } from '#gather/drone-sides.ts';
import type { GatheredLedger } from '#gather/ledger.ts';

/** The ledgers of the tubes on a rack, as plain data, for a device to read on by itself. */
export type RackLedger = {
  tubes: readonly Tube[];
  lines: readonly LedgerLine[];
  catches: readonly DroneCatch[];
  mixing: readonly (readonly [string, MixingAssumption])[];
};

const NOTHING = 1e-9;

/** The catch a tip is filled from: the last it was. */
const catchOfTip = (tip: string, { lines }: GatheredLedger): string | null =>
  lines.filter((line) => line.tube === tip && line.step === 'collected').at(-1)?.catch ?? null;

function tipFits(tip: string, fitting: DroneSide['fitting'], ledger: GatheredLedger): boolean {
  const from = catchOfTip(tip, ledger);
  const mothers = from === null ? [] : (ledger.catches.get(from)?.mothers ?? []);
  const wanted = new Set(fitting.map(sourceKey));
  return mothers.some(({ of }) => wanted.has(sourceKey(of)));
}

/** Tubes that may not be used: condemned, or frozen by the book. */
export const barredTubes = (ledger: GatheredLedger, condemned: Iterable<string>): Set<string> =>
  new Set([...condemned, ...[...ledger.story.tubes.values()].filter(({ frozen }) => frozen).map(({ tube }) => tube)]);

/** Tubes mounted or drawn from at a board. */
const tubesAtBoard = (acts: readonly BenchAct[]): Set<string> =>
  new Set(
    acts.flatMap((act) => {
      if (act.kind === 'capillary') return [act.tube];
      return act.kind === 'dose-given' ? act.draws.map(({ tube }) => tube) : [];
    }),
  );

/**
 * The tubes on the rack of a cross: those whose semen it asks for, in the order they should be used; tubes already mounted or drawn
 * from at this board stay, also when they are empty; then the tips of collect and give.
 * @param barred tubes that may not be used: they are on the rack only where they were at the board before, and last
 */
export function rackOf(
  side: DroneSide | undefined,
  { acts, barred }: { acts: readonly BenchAct[]; barred: ReadonlySet<string> },
  ledger: GatheredLedger,
): string[] {
  const fitting = side?.fitting ?? [];
  const used = tubesAtBoard(acts);
  const fits = useFirst([...ledger.story.tubes.values()])
    .filter((story) => tubeFit(story, fitting).fits)
    .filter(({ tube, left }) => (left > NOTHING && !barred.has(tube)) || used.has(tube))
    .sort((a, b) => Number(barred.has(a.tube)) - Number(barred.has(b.tube)));
  const tips = ledger.tubes.filter(({ id, form }) => form === 'tip' && tipFits(id, fitting, ledger));
  return [...new Set([...fits.map(({ tube }) => tube), ...tips.map(({ id }) => id)])];
}

/** µl in a tube before the acts of this board: they are played onto it again. */
function leftBefore(tube: string, acts: readonly BenchAct[], ledger: GatheredLedger): number {
  const now = ledger.story.tubes.get(tube)?.left ?? 0;
  return acts.reduce((left, act) => {
    if (act.kind === 'collected') return act.tube === tube ? left - (act.microlitres ?? 0) : left;
    if (act.kind !== 'dose-given') return left;
    return act.draws.reduce((sum, draw) => (draw.tube === tube ? sum + draw.microlitres : sum), left);
  }, now);
}

/** Rounding of sums of readings: a rack that did not change says the same number again. */
const read = (microlitres: number): number => Math.round(microlitres * 1e6) / 1e6;

/** The rack as it stood before the acts of this board. */
export function rackBefore(
  tubes: readonly string[],
  { acts, barred }: { acts: readonly BenchAct[]; barred: ReadonlySet<string> },
  ledger: GatheredLedger,
): RackTube[] {
  const forms = new Map(ledger.tubes.map(({ id, form }) => [id as string, form]));
  return tubes.map((tube) => {
    const left = read(leftBefore(tube, acts, ledger));
    const from = forms.get(tube) === 'tip' ? catchOfTip(tube, ledger) : null;
    const collectFrom = from === null ? null : { catch: from, drones: null };
    const held = collectFrom !== null && left <= NOTHING ? null : left;
    return { tube, left: held, end: 'filled', collectFrom, ...(barred.has(tube) ? { isBarred: true as const } : {}) };
  });
}

/** The tubes of a rack with every tube anything in them was drawn over from, and the catches behind them. */
export function ledgerOf(tubes: readonly string[], { facts, catches }: GatheredLedger): RackLedger {
  const wanted = new Set(tubes);
  for (let size = -1; size !== wanted.size; ) {
    size = wanted.size;
    for (const { tube, act } of facts.lines) if (act.kind === 'drawn-over' && wanted.has(tube)) wanted.add(act.from);
  }
  const lines = facts.lines.filter(
    ({ tube, act }) => wanted.has(tube) || (act.kind === 'drawn-over' && wanted.has(act.from)),
  );
  const used = new Set(lines.flatMap(({ act }) => ('catch' in act ? [act.catch] : [])));
  return {
    tubes: facts.tubes.filter(({ id }) => wanted.has(id)),
    lines,
    catches: [...catches.values()].filter(({ id }) => used.has(id)),
    mixing: [...facts.assumptions.tubes].filter(([id]) => wanted.has(id)),
  };
}
