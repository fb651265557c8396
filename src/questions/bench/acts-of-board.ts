import type { BenchAct, Draw } from '#domain/insemination/bench-board.ts';
import type { ExceptionKind, NotDoneReason } from '#domain/insemination/exception.ts';
import { epochOf, type Moment, momentAt } from '#units/moment.ts';
import { idWithin, type RecordId } from '#units/record-id.ts';

/** An act as the journal or the outbox of a device has it. */
export type ActSaid = { id: RecordId; name: string; input: unknown; done: Moment };

/** What acts of one board have in common. */
export type BoardOf = { bench_day: string; cross: string; zone: string };

/** The acts of a board: as the board knows them, numbered from 1, and which act of the book each number is. */
export type ActsOfBoard = {
  acts: readonly BenchAct[];
  actOf: ReadonlyMap<number, RecordId>;
  inseminations: Inseminations;
};

/** The last insemination of each queen at this board, and whose each is. */
export type Inseminations = { of: ReadonlyMap<string, RecordId>; whose: ReadonlyMap<RecordId, string> };

/** Names of acts a board is made of; all others are passed over. */
export const boardActs = [
  'give-dose',
  'fill-tip',
  'not-done',
  'add-exception',
  'home',
  'note-at-bench',
  'give-co2',
  'mark-at-bench',
  'step-back',
] as const;

/** The id of the insemination a `give-dose` or `not-done` act makes. */
export const inseminationOf = (act: RecordId): RecordId => idWithin(act, 0);

type Said = {
  bench_day?: string;
  cross?: string;
  at?: Moment;
  queen?: string;
  queens?: string[];
  draws?: { tube: string; end?: 'filled' | 'other'; microlitres: number }[];
  microlitres?: number;
  tip?: number;
  exceptions?: ExceptionKind[];
  collected?: { tube: string; catch: string; drones?: number | null; microlitres?: number | null };
  reason?: NotDoneReason;
  insemination?: RecordId;
  exception?: ExceptionKind;
  what?: string;
  tube?: string;
  words?: string;
  minutes?: number;
  code?: string | null;
  disc?: number | null;
  clip?: 'left' | 'right' | 'none' | null;
  act?: RecordId;
};
type Without<T> = T extends unknown ? Omit<T, 'n' | 'at'> : never;
type Told = Without<BenchAct>;

const drawOf = ({ tube, end, microlitres }: NonNullable<Said['draws']>[number]): Draw => ({
  tube,
  end: end ?? 'filled',
  microlitres,
});

const collectedOf = (
  { tube, catch: from, drones, microlitres }: NonNullable<Said['collected']>,
  isShared: boolean,
): Told => ({
  kind: 'collected',
  tube,
  catch: from,
  drones: drones ?? null,
  microlitres: microlitres ?? null,
  isShared,
});

function doseOf(said: Said, cross: string): Told[] {
  const draws = (said.draws ?? []).map(drawOf);
  const microlitres =
    draws.length > 0 ? draws.reduce((sum, draw) => sum + draw.microlitres, 0) : (said.microlitres ?? 0);
  const given: Told = {
    kind: 'dose-given',
    queen: said.queen ?? '',
    cross,
    draws,
    microlitres,
    tip: said.tip ?? 0,
    exceptions: said.exceptions ?? [],
    doubts: [],
  };
  return said.collected === undefined ? [given] : [collectedOf(said.collected, false), given];
}

function eventOf(said: Said): Told[] {
  switch (said.what) {
    case 'tip':
      return [{ kind: 'tip', tip: said.tip ?? 0 }];
    case 'capillary':
      return said.tube === undefined ? [] : [{ kind: 'capillary', tube: said.tube, was: null }];
    case 'paused':
    case 'resumed':
      return [{ kind: said.what }];
    case 'stop-taken-away':
    case 'stop-passed': {
      const kind = said.tube === undefined ? 'queen' : 'tube';
      const label = { kind, id: said.tube ?? said.queen ?? said.words ?? '' } as const;
      const exit = said.what === 'stop-passed' ? 'it-has-happened' : 'taken-away';
      return [{ kind: 'stopped', label, belongsTo: null, exit }];
    }
    default:
      return [];
  }
}

/** What an act is to the board `of`; nothing when it belongs to another board. */
function toldBy(act: ActSaid, of: BoardOf, whose: ReadonlyMap<RecordId, string>): Told[] {
  const said = act.input as Said;
  const isHere = said.bench_day === of.bench_day && said.cross === of.cross;
  const queen = said.insemination === undefined ? undefined : whose.get(said.insemination);
  switch (act.name) {
    case 'give-dose':
      return isHere ? doseOf(said, of.cross) : [];
    case 'fill-tip':
      return isHere && said.collected !== undefined ? [collectedOf(said.collected, true)] : [];
    case 'not-done':
      return isHere && said.reason !== undefined
        ? [{ kind: 'not-done', queen: said.queen ?? '', reason: said.reason }]
        : [];
    case 'add-exception':
      return queen === undefined || said.exception === undefined
        ? []
        : [{ kind: 'exception', queen, exception: said.exception }];
    case 'home':
      return queen === undefined ? [] : [{ kind: 'closed', queen }];
    case 'note-at-bench':
      return isHere ? eventOf(said) : [];
    case 'give-co2': {
      const [only, ...others] = said.queens ?? [];
      const isHers = said.bench_day === of.bench_day && only !== undefined && others.length === 0;
      return isHers ? [{ kind: 'co2', queen: only, minutes: said.minutes ?? 0 }] : [];
    }
    default:
      return [];
  }
}

/** The acts that stand among acts of the book or of an outbox: without those a later `step-back` takes back. */
function standing(acts: readonly ActSaid[]): ActSaid[] {
  const gone = new Set(acts.flatMap((act) => (act.name === 'step-back' ? [(act.input as Said).act] : [])));
  return acts.filter(({ id, name }) => name !== 'step-back' && !gone.has(id));
}

type Part = { act: ActSaid; told: Told };

/** The parts of a board that acts tell, in their order; a dose with its filling is one act in two parts. */
function partsOf(acts: readonly ActSaid[], of: BoardOf): { parts: Part[]; inseminations: Inseminations } {
  const inseminated = new Map<string, RecordId>();
  const whose = new Map<RecordId, string>();
  const parts: Part[] = [];
  for (const act of standing(acts)) {
    const said = act.input as Said;
    if (act.name === 'give-dose' && said.bench_day === of.bench_day && said.cross === of.cross) {
      inseminated.set(said.queen ?? '', inseminationOf(act.id));
      whose.set(inseminationOf(act.id), said.queen ?? '');
    }
    for (const told of toldBy(act, of, whose)) parts.push({ act, told });
  }
  return { parts, inseminations: { of: inseminated, whose } };
}

/** The acts a board stands on, by id, in their order: equal lists make equal boards. */
export const standingIds = (acts: readonly ActSaid[], of: BoardOf): RecordId[] =>
  partsOf(acts, of).parts.map(({ act }) => act.id);

/**
 * Reads acts of the book and of a device's outbox as the acts of one board, in their order. Both are read alike: that is why a
 * board opens at the same queen after a reload, on another device, or while the server is away.
 * @param acts oldest first; those stepped back in the book are left out already
 */
export function actsOfBoard(acts: readonly ActSaid[], of: BoardOf): ActsOfBoard {
  const { parts, inseminations } = partsOf(acts, of);
  const moments = new Map<string, number>();
  const epoch = (moment: Moment): number => {
    const known = moments.get(moment) ?? epochOf(moment);
    moments.set(moment, known);
    return known;
  };
  return {
    acts: parts.map(({ act, told }, i) => {
      const { at } = act.input as Said;
      return { ...told, n: i + 1, at: epoch(at ?? act.done) } as BenchAct;
    }),
    actOf: new Map(parts.map(({ act }, i) => [i + 1, act.id])),
    inseminations,
  };
}

/** What {@link actsToSend} needs to know of the board. */
export type Sending = BoardOf & {
  newId(): RecordId;
  actOf: ReadonlyMap<number, RecordId>;
  inseminations: Inseminations;
  /** The nuc a queen goes home to. */
  homeOf(queen: string): string | null;
  /** The code of a label the book does not know, by the id the device gave it. */
  unknown(id: string): { kind: 'queen' | 'tube'; code: string } | null;
  /** The label of that id as a person reads it. */
  textOf(id: string): string | null;
};

/** An act ready to be sent, and the numbers of the board it stands for. */
export type ToSend = ActSaid & { ns: readonly number[] };

type Writing = { name: string; input: Record<string, unknown> };

const given = (record: Record<string, unknown>) =>
  Object.fromEntries(Object.entries(record).filter(([, value]) => value !== null && value !== undefined));

function metIn(ids: readonly string[], { unknown }: Sending) {
  const met = ids.flatMap((id) => {
    const label = unknown(id);
    return label === null ? [] : [{ kind: label.kind, id, code: label.code }];
  });
  return met.length > 0 ? met : null;
}

function dose(act: Extract<BenchAct, { kind: 'dose-given' }>, before: BenchAct | undefined, sending: Sending): Writing {
  const { queen, draws, microlitres, tip, exceptions } = act;
  const filled = before?.kind === 'collected' && !before.isShared ? before : null;
  const collected =
    filled === null
      ? null
      : { tube: filled.tube, catch: filled.catch, drones: filled.drones, microlitres: filled.microlitres };
  const met = metIn([queen, ...draws.map(({ tube }) => tube)], sending);
  return { name: 'give-dose', input: given({ queen, draws, microlitres, tip, exceptions, collected, met }) };
}

function stopped(act: Extract<BenchAct, { kind: 'stopped' }>, { unknown, textOf }: Sending): Writing {
  const { label, exit, belongsTo } = act;
  const code = unknown(label.id)?.code ?? null;
  const isTube = label.kind === 'tube';
  const words = [code ?? textOf(label.id), belongsTo].filter((each) => each !== null).join(' · ');
  return {
    name: 'note-at-bench',
    input: given({
      what: exit === 'taken-away' ? 'stop-taken-away' : 'stop-passed',
      tube: isTube && code === null ? label.id : null,
      queen: label.kind === 'queen' && code === null ? label.id : null,
      words: words === '' ? null : words,
    }),
  };
}

/** One act of the board as acts of the book; a dose carries what its tip was filled with, so that part alone gives none. */
function writingOf(act: BenchAct, before: BenchAct | undefined, sending: Sending): Writing[] {
  const { of: insemination } = sending.inseminations;
  switch (act.kind) {
    case 'dose-given':
      return [dose(act, before, sending)];
    case 'collected': {
      const { tube, catch: from, drones, microlitres } = act;
      const collected = { tube, catch: from, drones, microlitres };
      return act.isShared ? [{ name: 'fill-tip', input: { collected } }] : [];
    }
    case 'closed':
      return [
        {
          name: 'home',
          input: given({ insemination: insemination.get(act.queen), colony: sending.homeOf(act.queen) }),
        },
      ];
    case 'exception':
      return [
        { name: 'add-exception', input: { insemination: insemination.get(act.queen), exception: act.exception } },
      ];
    case 'not-done':
      return [{ name: 'not-done', input: { queen: act.queen, reason: act.reason } }];
    case 'tip':
      return [{ name: 'note-at-bench', input: { what: 'tip', tip: act.tip } }];
    case 'capillary':
      return [{ name: 'note-at-bench', input: given({ what: 'capillary', tube: act.tube }) }];
    case 'paused':
    case 'resumed':
      return [{ name: 'note-at-bench', input: { what: act.kind } }];
    case 'stopped':
      return [stopped(act, sending)];
    case 'co2':
      return [{ name: 'give-co2', input: { queens: [act.queen], minutes: act.minutes, relation: 'with' } }];
    case 'coded':
      return [{ name: 'mark-at-bench', input: { queen: act.queen, code: act.code, disc: act.disc, clip: act.clip } }];
    case 'step-back':
      return [...new Set(act.of.map((n) => sending.actOf.get(n)))]
        .filter((id) => id !== undefined)
        .reverse()
        .map((id) => ({ name: 'step-back', input: { act: id } }));
  }
}

/** Which acts say where and when: those that carry no record of their own do. */
const saysBoard = ['give-dose', 'fill-tip', 'not-done', 'note-at-bench'];

function placed({ name, input }: Writing, at: Moment, { bench_day, cross }: Sending): Record<string, unknown> {
  if (saysBoard.includes(name)) return { bench_day, cross, at, ...input };
  if (name === 'give-co2') return { bench_day, at, ...input };
  return name === 'home' ? { at, ...input } : input;
}

/** The acts of one turn of the board as acts of the book, in the order they are to be kept and sent. */
export function actsToSend(turn: readonly BenchAct[], sending: Sending): ToSend[] {
  return turn.flatMap((act, i) => {
    const before = turn[i - 1];
    const at = momentAt(act.at, sending.zone);
    const ns = before?.kind === 'collected' && !before.isShared ? [before.n, act.n] : [act.n];
    return writingOf(act, before, sending).map((writing) => ({
      id: sending.newId(),
      name: writing.name,
      input: placed(writing, at, sending),
      done: at,
      ns,
    }));
  });
}
