import { z } from 'zod';
import type { Mixing } from '#domain/semen/ledger-line.ts';
import type { TubeStory } from '#domain/semen/ledger-story.ts';
import { nextDoses } from '#domain/semen/next-dose.ts';
import { type OpenCross, promisedAndFree } from '#domain/semen/promised-doses.ts';
import { type UseFirstRule, useFirst } from '#domain/semen/use-first.ts';
import { condemnedReads, gatherCondemned } from '#gather/condemned.ts';
import { droneSideReads, gatherDroneSides } from '#gather/drone-sides.ts';
import { type GatheredLedger, gatherLedger, ledgerReads } from '#gather/ledger.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';
import type { Moment } from '#units/moment.ts';
import { question } from '../mechanism/question.ts';
import {
  gatherNames,
  mothersOfLayers,
  type NamedPart,
  namedParts,
  nameOfSource,
  nameReads,
  type SourceNames,
} from './source-names.ts';

/** A tube as it lies in the rack. */
export type RackTube = {
  id: string;
  code: string;
  form: 'capillary' | 'vial' | 'tip';
  bore: number | null;
  slot: string | null;
  storedWhere: string | null;
  temperature: number | null;
  left: number;
  overdrawn: number;
  /** The most that was ever in it at one time as far as known: what its drawn length is measured by. */
  full: number;
  mixing: Mixing | 'empty';
  mothers: readonly NamedPart[];
  /** From the end it was filled by to the other. */
  layers: readonly { microlitres: number; mothers: readonly NamedPart[] }[];
  /** Whose drones the next dose holds. */
  nextDose: readonly NamedPart[];
  since: Moment | null;
  /** True where the semen, or a part of it, may be older than `since`: it came from elsewhere and its sender does not say. */
  maybeOlder: boolean;
  diluted: boolean;
  sealed: boolean;
  frozen: boolean;
  condemned: boolean;
};

/** Semen of one drone mother: what there is, what crosses want, what is free; µl. */
export type Balance = {
  name: string;
  kind: string;
  queen: string | null;
  semen: number;
  promised: number;
  free: number;
  crosses: readonly string[];
};

const rules = ['oldest', 'diluted-first', 'least-left'] as const satisfies readonly UseFirstRule[];
export const useFirstRules: readonly UseFirstRule[] = rules;

const input = z.strictObject({
  rule: z.enum(rules).default('oldest'),
  /** µl of one dose: ticks and counts. */
  dose: z.number().positive().max(100).default(8),
});

const reads = [
  ...new Set<KindName>([...ledgerReads, ...nameReads, ...droneSideReads, ...condemnedReads, 'cross', 'insemination']),
];

/** The most a tube held at one time: readings, and the sum of what went in before anything came out again. */
function fullest(tube: string, { lines, story }: GatheredLedger): number {
  const incoming = ['collected', 'received', 'drawn-over', 'diluent'];
  let held = 0;
  let most = Math.max(0, story.tubes.get(tube)?.left ?? 0);
  for (const line of lines) {
    if (line.from_tube === tube) held -= line.volume_ul ?? 0;
    if (line.tube !== tube || line.corrects !== null) continue;
    if (line.step === 're-measured') held = line.volume_ul ?? held;
    else held += (incoming.includes(line.step) ? 1 : -1) * (line.volume_ul ?? 0);
    most = Math.max(most, held);
  }
  return most;
}

type Context = { ledger: GatheredLedger; names: SourceNames; condemned: ReadonlySet<string>; dose: number };

function rackTube(row: Row<'tube'>, story: TubeStory, { ledger, names, condemned, dose }: Context): RackTube {
  const [next] = nextDoses(ledger, { tube: row.id, end: 'filled', dose, atMost: 1 });
  return {
    id: row.id,
    code: row.code,
    form: row.form,
    bore: row.bore_mm,
    slot: row.slot,
    storedWhere: row.stored_where,
    temperature: row.temperature_c,
    left: story.left,
    overdrawn: story.overdrawn,
    full: fullest(row.id, ledger),
    mixing: story.mixing,
    mothers: namedParts(mothersOfLayers(story.layers), names),
    layers: story.layers.map(({ microlitres, mothers }) => ({ microlitres, mothers: namedParts(mothers, names) })),
    nextDose: namedParts(next?.mothers ?? [], names),
    since: story.since?.moment ?? null,
    maybeOlder: story.since?.orEarlier ?? false,
    diluted: story.diluted,
    sealed: story.sealed,
    frozen: story.frozen,
    condemned: condemned.has(row.id),
  };
}

/** Crosses still wanting semen, with every dose already given for them. */
async function openCrosses(facts: Facts): Promise<OpenCross[]> {
  const sides = await gatherDroneSides(facts);
  const given = groupBy(await facts.find('insemination', { done: 1 }), ({ cross }) => cross);
  return (await facts.find('cross'))
    .filter(({ cancelled }) => cancelled !== 1)
    .map((cross) => ({
      id: cross.id,
      droneSide: sides.get(cross.id)?.asked ?? [],
      queensWanted: cross.queens_wanted,
      dosesPerQueen: cross.doses ?? 1,
      dose: cross.dose_ul,
      dosesGiven: given.get(cross.id)?.length ?? 0,
    }));
}

async function balancesOf(held: readonly TubeStory[], names: SourceNames, facts: Facts): Promise<Balance[]> {
  const codes = new Map((await facts.find('cross')).map(({ id, code }) => [id as string, code]));
  return promisedAndFree(held, await openCrosses(facts))
    .map(({ of, semen, promised, free, crosses }) => ({
      name: nameOfSource(of, names.names),
      kind: of.kind,
      queen: of.kind === 'mother' ? of.queen : null,
      semen,
      promised,
      free,
      crosses: crosses.map((id) => codes.get(id) ?? '–'),
    }))
    .sort((a, b) => a.free - b.free);
}

type Input = z.infer<typeof input>;

async function gather({ rule, dose }: Input, facts: Facts) {
  const ledger = await gatherLedger(facts);
  const names = await gatherNames(facts);
  const condemned = new Set((await gatherCondemned(facts, ledger)).tubes);
  const rows = new Map(ledger.tubes.map((row) => [row.id as string, row]));
  const stories = [...ledger.story.tubes.values()];
  const usable = stories.filter(({ tube }) => !condemned.has(tube));
  return {
    tubes: useFirst(stories, rule).flatMap((story) => {
      const row = rows.get(story.tube);
      return row === undefined ? [] : [rackTube(row, story, { ledger, names, condemned, dose })];
    }),
    balances: await balancesOf(usable, names, facts),
    /** Catches whose mother the breeder has to say. */
    asked: ledger.asked.length,
  };
}

/** Every tube in the order it should be used, and the semen of each drone mother: what there is, promised, free. */
export const rack = question({
  name: 'rack',
  what: 'Every tube in the order it should be used, and what is promised and free of each drone mother.',
  input,
  reads,
  gather,
  answer: (gathered) => gathered,
});
