import { doubt, type Problem } from '#units/problem.ts';
import { collect, dilute, drawIn, type Outflow, receive, remeasure, spinOff, takeFrom } from './apply-line.ts';
import { gathered, NOTHING, semenOf, volumeOf } from './column.ts';
import { type Catches, layersOf } from './contents.ts';
import { assumedFor, drawnFrom, type Noted } from './drawn.ts';
import type { LedgerLine, Tube } from './ledger-line.ts';
import {
  type Drawn,
  type LedgerAssumptions,
  type LedgerDoubt,
  type LedgerStory,
  type TubeStory,
  USUAL_ASSUMPTIONS,
} from './ledger-story.ts';
import { batchOf, type Origin, oldestOf, originOf } from './origins.ts';
import { type StandingLine, standingLines } from './standing-lines.ts';
import { emptyVessel, leftIn, mix, mixingOf, type Vessel } from './vessel.ts';

type Running = {
  vessels: Map<string, Vessel>;
  origins: Map<string, Origin>;
  draws: Map<string, Drawn>;
  readings: Map<string, { line: string; booked: number; read: number }[]>;
  problems: Problem<LedgerDoubt>[];
  open: (tube: string) => Vessel;
};

/**
 * Reads the ledgers of all tubes once, in the order things happened, and tells for every tube what is left, how it lies and
 * what came out by each line. Nothing is refused: an overdrawn tube gets a negative remainder and a doubt.
 *
 * Conventions: what went in last by an end comes out first by that end; a layer that is cut is cut in proportion; a re-reading
 * shrinks everything alike; an overdrawn dose is taken to be more of what came out last.
 * @param lines in the order they were written down; times decide, the order only breaks ties
 */
export function readLedger(facts: {
  tubes: readonly Tube[];
  lines: readonly LedgerLine[];
  catches: Catches;
  assumptions?: LedgerAssumptions;
}): LedgerStory {
  const running = start(facts.tubes, facts.assumptions ?? USUAL_ASSUMPTIONS);
  const { lines, roots } = standingLines(facts.lines);
  for (const line of lines) applyLine(running, line);
  const { origins, vessels, draws, problems } = running;
  const tubes = new Map([...vessels].map(([id, vessel]) => [id, storyOf(vessel, running, facts.catches)]));
  const batches = new Map(
    [...origins].flatMap(([id, origin]) => (origin.kind === 'batch' ? [[id, origin] as const] : [])),
  );
  return { tubes, vessels, draws, roots, batches, origins, problems };
}

/** What a line took out of its tube, also when the line was corrected since; null when it took nothing. */
export const drawnBy = (story: LedgerStory, line: string): Drawn | null =>
  story.draws.get(story.roots.get(line) ?? line) ?? null;

function start(tubes: readonly Tube[], assumptions: LedgerAssumptions): Running {
  const kinds = new Map(tubes.map((tube) => [tube.id, tube]));
  const vessels = new Map<string, Vessel>();
  const open = (id: string): Vessel => {
    const own = assumptions.tubes.get(id);
    const chosen = { stirred: own ?? assumptions.stirred, unknown: own ?? assumptions.unknown };
    return vessels.get(id) ?? emptyVessel(kinds.get(id) ?? { id, form: 'capillary' }, chosen);
  };
  for (const tube of tubes) vessels.set(tube.id, open(tube.id));
  return { vessels, origins: new Map(), draws: new Map(), readings: new Map(), problems: [], open };
}

function applyLine(running: Running, line: StandingLine): void {
  const vessel = running.open(line.tube);
  const after = changed(running, vessel, line);
  running.vessels.set(line.tube, KEEPS_SEALED.has(line.act.kind) ? after : { ...after, sealed: false });
}

/** What can be done to a tube without opening it. */
const KEEPS_SEALED: ReadonlySet<LedgerLine['act']['kind']> = new Set([
  'sealed',
  'frozen',
  'thawed',
  're-measured',
  'withdrawn',
]);

/** The tube after one line; what came out of it, or of the tube it was drawn from, is noted on the way. */
function changed(running: Running, vessel: Vessel, line: StandingLine): Vessel {
  const { origins } = running;
  const { act } = line;
  switch (act.kind) {
    case 'collected':
      if (act.microlitres === null && act.volumes === null) noteUnread(running, line);
      return collect(vessel, line, origins);
    case 'received':
      return receive(vessel, line, origins);
    case 'drawn-over':
      return drawOver(running, line, act);
    case 'diluent':
      return dilute(vessel, act, origins);
    case 'stirred':
    case 'homogenised':
      return mix(vessel, line, { mixing: act.kind, origins });
    case 'spun-off':
      return spinOff(vessel, line, origins).vessel;
    case 'sealed':
      return { ...vessel, sealed: true };
    case 'frozen':
      return { ...vessel, frozen: true };
    case 'thawed':
      return { ...vessel, frozen: false };
    case 're-measured':
      noteRemeasured(running, vessel, line, act.microlitres);
      return remeasure(vessel, act.microlitres);
    case 'withdrawn':
      return vessel;
    default:
      return noteDrawn(running, line, { before: vessel, out: takeFrom(vessel, act), kind: act.kind }).vessel;
  }
}

function drawOver(
  running: Running,
  line: StandingLine,
  act: Extract<LedgerLine['act'], { kind: 'drawn-over' }>,
): Vessel {
  const source = running.open(act.from);
  const out = takeFrom(source, { microlitres: act.microlitres, end: act.fromEnd });
  const left = noteDrawn(running, line, { before: source, out, kind: act.kind }).vessel;
  running.vessels.set(act.from, { ...left, sealed: false });
  return drawIn(running.open(line.tube), line, { slices: out.slices, end: act.end, origins: running.origins });
}

function noteDrawn(running: Running, line: StandingLine, noted: Noted): Outflow {
  const drawn = drawnFrom(running.origins, line, noted);
  running.draws.set(line.root, drawn);
  if (drawn.missing > NOTHING) {
    const values = { tube: drawn.tube, by: drawn.missing };
    running.problems.push(doubt(`lines.${line.root}`, 'tube-overdrawn', values));
  }
  if (drawn.pieces.some((piece) => originOf(running.origins, piece.origin).kind === 'unknown')) {
    running.problems.push(doubt(`lines.${line.root}`, 'semen-of-unknown-origin', { tube: drawn.tube }));
  }
  return noted.out;
}

function noteUnread(running: Running, line: StandingLine): void {
  running.problems.push(doubt(`lines.${line.root}`, 'volume-not-read', { tube: line.tube }));
}

function noteRemeasured(running: Running, vessel: Vessel, line: StandingLine, read: number): void {
  const earlier = running.readings.get(line.tube) ?? [];
  running.readings.set(line.tube, [...earlier, { line: line.root, booked: leftIn(vessel), read }]);
}

function storyOf(vessel: Vessel, running: Running, catches: Catches): TubeStory {
  const { origins } = running;
  const pieces = gathered(vessel.column);
  const batch = batchOf(pieces, origins);
  const semen = semenOf(vessel.column);
  return {
    tube: vessel.tube.id,
    left: leftIn(vessel),
    semen,
    overdrawn: vessel.overdrawn,
    mixing: mixingOf(vessel, origins),
    assumed: assumedFor(vessel, batch),
    layers: layersOf(vessel.column, { origins, catches }),
    batch: batch?.assumed === 'homogenised' ? batch.id : null,
    diluted: volumeOf(vessel.column) - semen > NOTHING,
    sealed: vessel.sealed,
    frozen: vessel.frozen,
    since: oldestOf(pieces, origins),
    readings: running.readings.get(vessel.tube.id) ?? [],
  };
}
