import { z } from 'zod';
import { drawnBy } from '#domain/semen/ledger.ts';
import { nextDoses } from '#domain/semen/next-dose.ts';
import { type StandingLine, standingLines } from '#domain/semen/standing-lines.ts';
import { condemnedReads, gatherCondemned } from '#gather/condemned.ts';
import { type GatheredLedger, gatherLedger, ledgerReads } from '#gather/ledger.ts';
import type { Facts } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { epochOf, type Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { question } from '../mechanism/question.ts';
import {
  gatherNames,
  mothersOfLayers,
  type NamedPart,
  namedParts,
  nameReads,
  type SourceNames,
} from './source-names.ts';

/** One line of a tube's ledger, told with names. `gone`: another line stands in its place. */
export type StoryLine = {
  id: string;
  step: Row<'ledger_line'>['step'];
  moment: Moment;
  person: string | null;
  volume: number | null;
  semen: number | null;
  drones: number | null;
  end: 'filled' | 'other' | null;
  fromTube: { id: string; code: string } | null;
  /** The tube it was drawn over into, where this tube gave it. */
  toTube: { id: string; code: string } | null;
  catch: { id: string; code: string | null; mothers: readonly string[] } | null;
  queen: { id: string; name: string } | null;
  to: string | null;
  readHow: string | null;
  corrects: boolean;
  gone: boolean;
  /** µl in the tube after this line; null for lines that do not stand. */
  after: number | null;
};

export type TubeLeaf = {
  tube: Row<'tube'>;
  left: number;
  /** µl: into + read − given − away = left. `read` is what physical re-readings changed. */
  sums: { into: number; given: number; away: number; read: number };
  semen: number;
  overdrawn: number;
  mixing: string;
  assumed: string | null;
  layers: readonly { microlitres: number; semen: number; mothers: readonly NamedPart[] }[];
  mothers: readonly NamedPart[];
  nextDoses: readonly { microlitres: number; missing: number; mothers: readonly NamedPart[] }[];
  since: Moment | null;
  /** True where the semen, or a part of it, may be older than `since`: it came from elsewhere and its sender does not say. */
  maybeOlder: boolean;
  diluted: boolean;
  sealed: boolean;
  frozen: boolean;
  condemned: boolean;
  /** Queens served from it after it was soiled. */
  servedSoiled: readonly { id: string; name: string }[];
  lines: readonly StoryLine[];
  /** Other tubes, to draw over from. */
  others: readonly { id: string; code: string; left: number }[];
};

const input = z.strictObject({ tube: idShape, dose: z.number().positive().max(100).default(8) });

const reads = [
  ...new Set<KindName>([...ledgerReads, ...nameReads, ...condemnedReads, 'person', 'parcel', 'insemination']),
];

type Told = {
  ledger: GatheredLedger;
  names: SourceNames;
  persons: ReadonlyMap<string, string>;
  inseminations: ReadonlyMap<string, Row<'insemination'>>;
  catches: ReadonlyMap<string, Row<'drone_catch'>>;
  parcels: ReadonlyMap<string, Row<'parcel'>>;
};

async function toldWith(ledger: GatheredLedger, facts: Facts): Promise<Told> {
  return {
    ledger,
    names: await gatherNames(facts),
    persons: new Map((await facts.find('person')).map(({ id, name }) => [id as string, name])),
    inseminations: new Map((await facts.find('insemination')).map((row) => [row.id as string, row])),
    catches: new Map((await facts.find('drone_catch')).map((row) => [row.id as string, row])),
    parcels: new Map((await facts.find('parcel')).map((row) => [row.id as string, row])),
  };
}

const tubeNamed = (id: RecordId | null, { ledger }: Told): StoryLine['fromTube'] => {
  const tube = id === null ? undefined : ledger.tubes.find((each) => each.id === id);
  return tube === undefined ? null : { id: tube.id, code: tube.code };
};

function catchNamed(id: RecordId | null, { ledger, catches, names }: Told): StoryLine['catch'] {
  const row = id === null ? undefined : catches.get(id);
  if (row === undefined) return null;
  const mothers = ledger.catches.get(row.id)?.mothers ?? [];
  const named = mothers.flatMap(({ of }) => (of.kind === 'mother' ? [names.names[of.queen] ?? '–'] : []));
  return { id: row.id, code: row.code, mothers: named };
}

function queenNamed(id: RecordId | null, { inseminations, names }: Told): StoryLine['queen'] {
  const queen = id === null ? undefined : inseminations.get(id)?.queen;
  return queen === undefined ? null : { id: queen, name: names.names[queen] ?? '–' };
}

/** The insemination of a corrected dose stands on the line first written. */
function inseminationOf(line: Row<'ledger_line'>, { ledger }: Told): RecordId | null {
  const root = ledger.story.roots.get(line.id);
  return line.insemination ?? ledger.lines.find(({ id }) => id === root)?.insemination ?? null;
}

function storyLine(tube: string, line: Row<'ledger_line'>, told: Told, after: ReadonlyMap<string, number>): StoryLine {
  const isGiver = line.tube !== tube;
  const person = line.person === null ? undefined : told.persons.get(line.person);
  const parcel = line.parcel === null ? undefined : told.parcels.get(line.parcel);
  return {
    id: line.id,
    step: line.step,
    moment: line.moment,
    person: person ?? null,
    volume: line.volume_ul,
    semen: line.semen_ul,
    drones: line.drones,
    end: isGiver ? line.from_end : line.end,
    fromTube: isGiver ? null : tubeNamed(line.from_tube, told),
    toTube: isGiver ? tubeNamed(line.tube, told) : null,
    catch: catchNamed(line.catch, told),
    queen: queenNamed(inseminationOf(line, told), told),
    to: parcel?.other == null ? null : (told.persons.get(parcel.other) ?? null),
    readHow: line.read_how,
    corrects: line.corrects !== null,
    gone: !after.has(line.id),
    after: after.get(line.id) ?? null,
  };
}

/** What lines did to a tube, µl: what came in, what queens got, what left another way. */
type Moved = { into: number; given: number; away: number };
const NOTHING_MOVED: Moved = { into: 0, given: 0, away: 0 };

function movedBy(tube: string, line: StandingLine, { left, ledger }: { left: number; ledger: GatheredLedger }): Moved {
  const { act } = line;
  const all = () => drawnBy(ledger.story, line.id)?.microlitres ?? Math.max(0, left);
  if (act.kind === 'drawn-over' && act.from === tube) return { ...NOTHING_MOVED, away: act.microlitres };
  switch (act.kind) {
    case 'collected':
      return { ...NOTHING_MOVED, into: act.microlitres ?? act.drones ?? 0 };
    case 'received':
    case 'diluent':
    case 'drawn-over':
      return { ...NOTHING_MOVED, into: act.microlitres };
    case 'dose':
      return { ...NOTHING_MOVED, given: act.microlitres };
    case 'spun-off':
      return { ...NOTHING_MOVED, away: act.microlitres };
    case 'lost':
    case 'broken':
    case 'sent':
      return { ...NOTHING_MOVED, away: act.microlitres ?? all() };
    default:
      return NOTHING_MOVED;
  }
}

/** µl in the tube after every line that stands, by running its volumes down, and the sums of what moved. */
function leftAfter(tube: string, ledger: GatheredLedger): { after: Map<string, number>; moved: Moved } {
  const after = new Map<string, number>();
  let left = 0;
  let moved = NOTHING_MOVED;
  for (const line of standingLines(ledger.facts.lines).lines) {
    const { act } = line;
    if (line.tube !== tube && !(act.kind === 'drawn-over' && act.from === tube)) continue;
    const by = movedBy(tube, line, { left, ledger });
    moved = { into: moved.into + by.into, given: moved.given + by.given, away: moved.away + by.away };
    left = act.kind === 're-measured' ? act.microlitres : left + by.into - by.given - by.away;
    after.set(line.id, left);
  }
  return { after, moved };
}

/** The sums as they are shown, to the hundredth; whatever is not explained by them was read. */
function sumsOf({ into, given, away }: Moved, left: number): TubeLeaf['sums'] {
  const hundredth = (n: number) => Math.round(n * 100) / 100;
  return {
    into: hundredth(into),
    given: hundredth(given),
    away: hundredth(away),
    read: hundredth(left - into + given + away) + 0,
  };
}

async function gather({ tube: id, dose }: z.infer<typeof input>, facts: Facts): Promise<TubeLeaf | null> {
  const tube = await facts.get('tube', id);
  if (tube === null) return null;
  const ledger = await gatherLedger(facts);
  const told = await toldWith(ledger, facts);
  const story = ledger.story.tubes.get(id);
  const condemned = await gatherCondemned(facts, ledger);
  const isSoiled = condemned.tubes.includes(id);
  const { after, moved } = leftAfter(id, ledger);
  const mine = ledger.lines.filter((line) => line.tube === id || line.from_tube === id);
  const served = new Set(mine.flatMap((line) => queenNamed(line.insemination, told)?.id ?? []));
  const { names } = told;
  return {
    tube,
    left: story?.left ?? 0,
    sums: sumsOf(moved, story?.left ?? 0),
    semen: story?.semen ?? 0,
    overdrawn: story?.overdrawn ?? 0,
    mixing: story?.mixing ?? 'empty',
    assumed: story?.assumed ?? null,
    layers: (story?.layers ?? []).map(({ microlitres, semen, mothers }) => ({
      microlitres,
      semen,
      mothers: namedParts(mothers, names),
    })),
    mothers: namedParts(mothersOfLayers(story?.layers ?? []), names),
    nextDoses: nextDoses(ledger, { tube: id, end: 'filled', dose, atMost: 8 }).map((ahead) => ({
      microlitres: ahead.microlitres,
      missing: ahead.missing,
      mothers: namedParts(ahead.mothers, names),
    })),
    since: story?.since?.moment ?? null,
    maybeOlder: story?.since?.orEarlier ?? false,
    diluted: story?.diluted ?? false,
    sealed: story?.sealed ?? false,
    frozen: story?.frozen ?? false,
    condemned: isSoiled,
    servedSoiled: condemned.queens
      .filter((queen) => served.has(queen))
      .map((queen) => ({ id: queen, name: names.names[queen] ?? '–' })),
    lines: mine.map((line) => storyLine(id, line, told, after)).sort((a, b) => epochOf(a.moment) - epochOf(b.moment)),
    others: ledger.tubes
      .filter((each) => each.id !== id)
      .map((each) => ({ id: each.id, code: each.code, left: ledger.story.tubes.get(each.id)?.left ?? 0 }))
      .filter(({ left }) => left > 0),
  };
}

/** The story of one tube: its ledger in words, what is left, what the next doses hold, who was served when it was soiled. */
export const tubeStory = question({
  name: 'tube-story',
  what: 'The story of one tube: its ledger line by line, what is left, what the next doses hold.',
  input,
  reads,
  gather,
  answer: (leaf) => ({ leaf }),
});
