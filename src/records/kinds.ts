import type { RecordId } from '#units/record-id.ts';
import * as bench from './bench.ts';
import * as careRecords from './care.ts';
import { type EntryOf, type Kind, type RowOf, rowOf } from './kind.ts';
import * as notes from './notes.ts';
import * as rearing from './rearing.ts';
import * as scoring from './scoring.ts';
import * as seasons from './season.ts';
import * as stock from './stock.ts';

/** Every kind of record, by the name of its table. */
export const kinds = {
  person: stock.person,
  yard: stock.yard,
  line: stock.line,
  line_founder: stock.lineFounder,
  sister_group: stock.sisterGroup,
  queen: stock.queen,
  queen_code: stock.queenCode,
  mark: stock.mark,
  colony: stock.colony,
  colony_place: stock.colonyPlace,
  cage: stock.cage,
  stay: stock.stay,
  identity_exchange: stock.identityExchange,
  not_watched: stock.notWatched,
  loan: stock.loan,
  fate: stock.fate,
  guess: stock.guess,
  cross: rearing.cross,
  cross_dam: rearing.crossDam,
  cross_drone_source: rearing.crossDroneSource,
  cross_stand_in: rearing.crossStandIn,
  season: seasons.season,
  day_off: seasons.dayOff,
  task: rearing.task,
  graft: rearing.graft,
  graft_range: rearing.graftRange,
  graft_cell: rearing.graftCell,
  drone_comb: rearing.droneComb,
  planned_graft: seasons.plannedGraft,
  planned_graft_use: seasons.plannedGraftUse,
  planned_comb: seasons.plannedComb,
  planned_comb_use: seasons.plannedCombUse,
  biology_profile: seasons.biologyProfile,
  biology_figure: seasons.biologyFigure,
  mating_place: rearing.matingPlace,
  mating_season: rearing.matingSeason,
  mating_season_source: rearing.matingSeasonSource,
  natural_mating: rearing.naturalMating,
  pool_word: rearing.poolWord,
  saline_batch: bench.salineBatch,
  bench_day: bench.benchDay,
  bench_queen: bench.benchQueen,
  bench_event: bench.benchEvent,
  tube: bench.tube,
  drone_catch: bench.droneCatch,
  drone_catch_source: bench.droneCatchSource,
  drone_catch_reason: bench.droneCatchReason,
  ledger_line: bench.ledgerLine,
  insemination: bench.insemination,
  insemination_source: bench.inseminationSource,
  insemination_exception: bench.inseminationException,
  co2_treatment: bench.co2Treatment,
  co2_queen: bench.co2Queen,
  lab_result: bench.labResult,
  parcel: bench.parcel,
  care: careRecords.care,
  care_queen: careRecords.careQueen,
  introduction: careRecords.introduction,
  laying_check: careRecords.layingCheck,
  laying_sight: careRecords.layingSight,
  visit: scoring.visit,
  score: scoring.score,
  run: scoring.run,
  note: notes.note,
  photo: notes.photo,
  worry: notes.worry,
  setting: notes.setting,
} as const;

export type KindName = keyof typeof kinds;
type FieldsOf<N extends KindName> = (typeof kinds)[N] extends Kind<infer F> ? F : never;
/** A stored record of a kind. */
export type Row<N extends KindName> = RowOf<FieldsOf<N>>;
/** What is entered for a new record of a kind. */
export type Entry<N extends KindName> = EntryOf<FieldsOf<N>>;

/** The stored row of a new record of a kind: what was not entered is `null`. */
export const newRow = <N extends KindName>(name: N, id: RecordId, entry: Entry<N>): Row<N> =>
  rowOf(kinds[name] as unknown as Kind, id, entry as never) as unknown as Row<N>;

export const kindNames = Object.keys(kinds) as KindName[];
export const isKindName = (name: string): name is KindName => Object.hasOwn(kinds, name);

/** The fields of a kind that hold ids, with the kind they point at ('*' = the one named in `about_kind`). */
export function referencesOf(name: KindName): { field: string; to: string }[] {
  return Object.entries(kinds[name].fields).flatMap(([field, { refers }]) =>
    refers === undefined ? [] : [{ field, to: refers }],
  );
}
