import type { Dialect, Migration } from './migration.ts';

/** Two kinds point at each other (queen and sister group): SQLite takes the reference forward, PostgreSQL adds it after. */
const toHerDam = 'references "queen" ("id") deferrable initially immediate';

/** Version 1: the journal and every kind of record of the first release. Frozen: a later schema is a later migration. */
export const theFirstBook: Migration = {
  number: 1,
  name: 'the first book',
  statements: (dialect) => [...tables(dialect), ...afterwards(dialect)],
};

function afterwards({ kind }: Dialect): string[] {
  if (kind === 'sqlite') return [];
  return [`alter table "sister_group" add constraint "sister_group_dam_fkey" foreign key ("dam") ${toHerDam}`];
}

function tables({ kind, real, bytes, end }: Dialect): string[] {
  const later = kind === 'sqlite' ? ` ${toHerDam}` : '';
  return [
    `create table "meta" (
  "name" text primary key,
  "value" text not null
)${end}`,
    `create table "act" (
  "id" text primary key,
  "seq" integer not null unique,
  "name" text not null,
  "input" text not null,
  "fingerprint" text not null,
  "seen" integer,
  "done" text not null,
  "recorded" text not null,
  "device" text,
  "n" integer,
  "who" text,
  "happened" integer not null check ("happened" in (0, 1)),
  "result" text not null
)${end}`,
    `create table "act_undoes" (
  "act" text not null references "act" ("id"),
  "undone" text not null references "act" ("id"),
  primary key ("act", "undone")
)${end}`,
    `create index "act_undoes_undone" on "act_undoes" ("undone")`,
    `create table "change" (
  "seq" integer not null references "act" ("seq"),
  "kind" text not null,
  "record" text not null,
  "before" text,
  "after" text,
  primary key ("seq", "kind", "record")
)${end}`,
    `create index "change_record" on "change" ("record", "seq")`,
    `create table "bytes_kept" (
  "hash" text primary key,
  "form" text not null,
  "bytes" ${bytes} not null
)${end}`,
    `create table "parked_act" (
  "id" text primary key,
  "content" text not null,
  "problems" text not null,
  "received" text not null
)${end}`,
    `create table "person" (
  "id" text primary key,
  "name" text not null,
  "erased" integer check ("erased" in (0, 1))
)${end}`,
    `create table "yard" (
  "id" text primary key,
  "name" text not null,
  "zone" text,
  "walking_order" integer check ("walking_order" >= 0),
  "distance_km" ${real}
)${end}`,
    `create table "line" (
  "id" text primary key,
  "name" text not null,
  "rule" text
)${end}`,
    `create table "colony" (
  "id" text primary key,
  "code" text not null,
  "form" text not null check ("form" in ('full', 'nuc', 'starter', 'finisher', 'bank', 'drone-holder')),
  "since" text,
  "ended" text,
  "ended_how" text check ("ended_how" in ('united', 'split', 'lost', 'dissolved', 'sold')),
  "united_into" text references "colony" ("id") deferrable initially immediate
)${end}`,
    `create table "cross" (
  "id" text primary key,
  "code" text not null,
  "purpose" text,
  "queens_wanted" integer not null check ("queens_wanted" >= 0),
  "dose_ul" ${real} not null check ("dose_ul" >= 0),
  "doses" integer check ("doses" >= 0),
  "drones" ${real},
  "inseminate_on" text,
  "latest_on" text,
  "queen_age" integer check ("queen_age" >= 0),
  "drone_age_from" integer check ("drone_age_from" >= 0),
  "drone_age_to" integer check ("drone_age_to" >= 0),
  "hold_days" integer check ("hold_days" >= 0),
  "profile" text,
  "cancelled" integer check ("cancelled" in (0, 1)),
  "earliest_on" text,
  "worth" ${real},
  "keep_day" integer check ("keep_day" in (0, 1)),
  "larva_age_hours" ${real},
  "brood_celsius" ${real}
)${end}`,
    `create table "graft" (
  "id" text primary key,
  "code" text not null,
  "day" text not null,
  "moment" text,
  "larva_age_hours" ${real},
  "starter" text references "colony" ("id") deferrable initially immediate,
  "finisher" text references "colony" ("id") deferrable initially immediate,
  "cross" text references "cross" ("id") deferrable initially immediate,
  "larvae" integer check ("larvae" >= 0)
)${end}`,
    `create table "graft_cell" (
  "id" text primary key,
  "graft" text not null references "graft" ("id") deferrable initially immediate,
  "position" integer not null check ("position" >= 0),
  "accepted" integer check ("accepted" in (0, 1)),
  "sealed_on" text,
  "out_on" text,
  "emerged_on" text,
  "given_to" text,
  "lost" integer check ("lost" in (0, 1))
)${end}`,
    `create table "sister_group" (
  "id" text primary key,
  "code" text not null,
  "dam" text${later},
  "dam_sure" text check ("dam_sure" in ('known', 'guessed')),
  "size" integer not null check ("size" >= 0),
  "year" integer check ("year" >= 0),
  "line" text references "line" ("id") deferrable initially immediate
)${end}`,
    `create table "queen" (
  "id" text primary key,
  "code" text,
  "emerged" text,
  "emerged_about" integer check ("emerged_about" >= 0),
  "emerged_sure" text check ("emerged_sure" in ('known', 'guessed')),
  "year" integer check ("year" >= 0),
  "dam" text references "queen" ("id") deferrable initially immediate,
  "dam_sure" text check ("dam_sure" in ('known', 'guessed')),
  "cell" text references "graft_cell" ("id") deferrable initially immediate,
  "line" text references "line" ("id") deferrable initially immediate,
  "sister_group" text references "sister_group" ("id") deferrable initially immediate,
  "owner" text references "person" ("id") deferrable initially immediate,
  "keeper" text references "person" ("id") deferrable initially immediate,
  "origin" text check ("origin" in ('bred', 'bought', 'given', 'caught', 'found')),
  "came_on" text
)${end}`,
    `create table "line_founder" (
  "id" text primary key,
  "line" text not null references "line" ("id") deferrable initially immediate,
  "queen" text not null references "queen" ("id") deferrable initially immediate
)${end}`,
    `create table "queen_code" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "code" text not null,
  "borne_from" text,
  "borne_to" text,
  "given_by" text
)${end}`,
    `create table "mark" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "colour" text check ("colour" in ('white', 'yellow', 'red', 'green', 'blue', 'other', 'none')),
  "disc" integer check ("disc" >= 0),
  "clip" text check ("clip" in ('left', 'right', 'none')),
  "worn_from" text,
  "worn_to" text,
  "lost" integer check ("lost" in (0, 1))
)${end}`,
    `create table "colony_place" (
  "id" text primary key,
  "colony" text not null references "colony" ("id") deferrable initially immediate,
  "yard" text not null references "yard" ("id") deferrable initially immediate,
  "stood_from" text,
  "stood_to" text,
  "spot" integer check ("spot" >= 0)
)${end}`,
    `create table "cage" (
  "id" text primary key,
  "number" text not null
)${end}`,
    `create table "stay" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "colony" text references "colony" ("id") deferrable initially immediate,
  "cage" text references "cage" ("id") deferrable initially immediate,
  "role" text check ("role" in ('heads', 'caged', 'banked')),
  "from_earliest" text,
  "from_latest" text,
  "to_earliest" text,
  "to_latest" text,
  "why" text
)${end}`,
    `create table "identity_exchange" (
  "id" text primary key,
  "one" text not null references "queen" ("id") deferrable initially immediate,
  "other" text not null references "queen" ("id") deferrable initially immediate,
  "exchanged_on" text not null,
  "noticed_on" text not null,
  "exchange_sure" text check ("exchange_sure" in ('known', 'guessed'))
)${end}`,
    `create table "not_watched" (
  "id" text primary key,
  "yard" text references "yard" ("id") deferrable initially immediate,
  "colony" text references "colony" ("id") deferrable initially immediate,
  "span_from" text not null,
  "span_to" text not null
)${end}`,
    `create table "loan" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "lent_to" text not null references "person" ("id") deferrable initially immediate,
  "lent_on" text,
  "back_on" text
)${end}`,
    `create table "fate" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "kind" text not null check ("kind" in ('died', 'lost', 'superseded', 'drone-layer', 'culled', 'sold', 'given', 'sampled', 'swarmed', 'not-taken')),
  "happened_on" text,
  "happened_latest" text,
  "cause" text,
  "cause_sure" text check ("cause_sure" in ('known', 'guessed'))
)${end}`,
    `create table "guess" (
  "id" text primary key,
  "about_kind" text not null,
  "about" text not null,
  "field" text not null,
  "value" text not null,
  "weight" ${real} check ("weight" >= 0 and "weight" <= 1),
  "by" text
)${end}`,
    `create table "cross_dam" (
  "id" text primary key,
  "cross" text not null references "cross" ("id") deferrable initially immediate,
  "queen" text not null references "queen" ("id") deferrable initially immediate
)${end}`,
    `create table "cross_drone_source" (
  "id" text primary key,
  "cross" text not null references "cross" ("id") deferrable initially immediate,
  "queen" text references "queen" ("id") deferrable initially immediate,
  "sister_group" text references "sister_group" ("id") deferrable initially immediate,
  "line" text references "line" ("id") deferrable initially immediate,
  "share" ${real} check ("share" >= 0 and "share" <= 1)
)${end}`,
    `create table "cross_stand_in" (
  "id" text primary key,
  "cross" text not null references "cross" ("id") deferrable initially immediate,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "side" text not null check ("side" in ('queen', 'drone'))
)${end}`,
    `create table "graft_range" (
  "id" text primary key,
  "graft" text not null references "graft" ("id") deferrable initially immediate,
  "position_from" integer not null check ("position_from" >= 0),
  "position_to" integer not null check ("position_to" >= 0),
  "dam" text not null references "queen" ("id") deferrable initially immediate,
  "accepted_count" integer check ("accepted_count" >= 0)
)${end}`,
    `create table "drone_comb" (
  "id" text primary key,
  "code" text not null,
  "mother" text references "queen" ("id") deferrable initially immediate,
  "mother_sure" text check ("mother_sure" in ('known', 'guessed')),
  "colony" text references "colony" ("id") deferrable initially immediate,
  "holder" text references "colony" ("id") deferrable initially immediate,
  "in_on" text,
  "laid_from" text,
  "laid_to" text,
  "emerged_from" text,
  "emerged_to" text,
  "marked_how" text,
  "cross" text references "cross" ("id") deferrable initially immediate,
  "laid_cells" integer check ("laid_cells" >= 0),
  "emerged_count" integer check ("emerged_count" >= 0),
  "alive_count" integer check ("alive_count" >= 0),
  "alive_on" text
)${end}`,
    `create table "season" (
  "id" text primary key,
  "name" text not null,
  "from_on" text not null,
  "to_on" text not null,
  "sure" ${real} check ("sure" >= 0 and "sure" <= 1),
  "cells" integer check ("cells" >= 0),
  "cell_days" integer check ("cell_days" >= 0),
  "incubator_places" integer check ("incubator_places" >= 0),
  "nucs" integer check ("nucs" >= 0),
  "nuc_days" integer check ("nuc_days" >= 0),
  "combs_per_mother" integer check ("combs_per_mother" >= 0),
  "operators" integer check ("operators" >= 0),
  "queens_per_operator" integer check ("queens_per_operator" >= 0),
  "one_yard" integer check ("one_yard" in (0, 1)),
  "visit_worth" ${real}
)${end}`,
    `create table "day_off" (
  "id" text primary key,
  "from_on" text not null,
  "to_on" text not null,
  "why" text
)${end}`,
    `create table "planned_graft" (
  "id" text primary key,
  "dam" text not null references "queen" ("id") deferrable initially immediate,
  "day" text not null,
  "larvae" integer not null check ("larvae" >= 0),
  "graft" text references "graft" ("id") deferrable initially immediate,
  "cancelled" integer check ("cancelled" in (0, 1))
)${end}`,
    `create table "planned_graft_use" (
  "id" text primary key,
  "planned_graft" text not null references "planned_graft" ("id") deferrable initially immediate,
  "cross" text not null references "cross" ("id") deferrable initially immediate,
  "queens" integer not null check ("queens" >= 0)
)${end}`,
    `create table "planned_comb" (
  "id" text primary key,
  "mother" text references "queen" ("id") deferrable initially immediate,
  "sister_group" text references "sister_group" ("id") deferrable initially immediate,
  "line" text references "line" ("id") deferrable initially immediate,
  "in_on" text not null,
  "combs" integer not null check ("combs" >= 0),
  "drone_comb" text references "drone_comb" ("id") deferrable initially immediate,
  "cancelled" integer check ("cancelled" in (0, 1))
)${end}`,
    `create table "planned_comb_use" (
  "id" text primary key,
  "planned_comb" text not null references "planned_comb" ("id") deferrable initially immediate,
  "cross" text not null references "cross" ("id") deferrable initially immediate,
  "combs" ${real}
)${end}`,
    `create table "task" (
  "id" text primary key,
  "cross" text references "cross" ("id") deferrable initially immediate,
  "key" text not null,
  "words" text,
  "day" text not null,
  "span_from" text not null,
  "span_to" text not null,
  "uid" text not null,
  "sequence" integer not null check ("sequence" >= 0),
  "yard" text references "yard" ("id") deferrable initially immediate,
  "by_hand" ${real},
  "done_on" text,
  "cancelled" integer check ("cancelled" in (0, 1)),
  "planned_graft" text references "planned_graft" ("id") deferrable initially immediate,
  "planned_comb" text references "planned_comb" ("id") deferrable initially immediate
)${end}`,
    `create table "biology_profile" (
  "id" text primary key,
  "name" text not null,
  "based_on" text not null,
  "larva_age_hours" ${real},
  "brood_celsius" ${real}
)${end}`,
    `create table "biology_figure" (
  "id" text primary key,
  "profile" text not null references "biology_profile" ("id") deferrable initially immediate,
  "figure" text not null,
  "value" ${real} not null,
  "low" ${real} not null,
  "high" ${real} not null,
  "learned" integer check ("learned" in (0, 1)),
  "source" text
)${end}`,
    `create table "mating_place" (
  "id" text primary key,
  "name" text not null
)${end}`,
    `create table "mating_season" (
  "id" text primary key,
  "place" text not null references "mating_place" ("id") deferrable initially immediate,
  "year" integer not null check ("year" >= 0),
  "stood_from" text,
  "stood_to" text,
  "trusted" text check ("trusted" in ('known', 'guessed'))
)${end}`,
    `create table "mating_season_source" (
  "id" text primary key,
  "season" text not null references "mating_season" ("id") deferrable initially immediate,
  "queen" text references "queen" ("id") deferrable initially immediate,
  "sister_group" text references "sister_group" ("id") deferrable initially immediate
)${end}`,
    `create table "natural_mating" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "season" text references "mating_season" ("id") deferrable initially immediate,
  "flew_from" text,
  "flew_to" text,
  "drones" ${real},
  "suspected" integer check ("suspected" in (0, 1)),
  "share" ${real} check ("share" >= 0 and "share" <= 1)
)${end}`,
    `create table "pool_word" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "mother" text references "queen" ("id") deferrable initially immediate,
  "sister_group" text references "sister_group" ("id") deferrable initially immediate,
  "line" text references "line" ("id") deferrable initially immediate,
  "share" ${real} check ("share" >= 0 and "share" <= 1),
  "alternative" integer check ("alternative" in (0, 1)),
  "drones" ${real},
  "said_on" text,
  "said_by" text
)${end}`,
    `create table "saline_batch" (
  "id" text primary key,
  "code" text not null,
  "recipe" text,
  "made_on" text,
  "made_by" text references "person" ("id") deferrable initially immediate,
  "antibiotic" text
)${end}`,
    `create table "bench_day" (
  "id" text primary key,
  "day" text not null,
  "place" text,
  "zone" text not null,
  "saline" text references "saline_batch" ("id") deferrable initially immediate,
  "gas_bottle" text,
  "operator" text references "person" ("id") deferrable initially immediate,
  "first_tip" integer check ("first_tip" >= 0),
  "opened" text,
  "closed" text
)${end}`,
    `create table "bench_queen" (
  "id" text primary key,
  "bench_day" text not null references "bench_day" ("id") deferrable initially immediate,
  "cross" text not null references "cross" ("id") deferrable initially immediate,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "place" integer not null check ("place" >= 0),
  "cage" text references "cage" ("id") deferrable initially immediate,
  "home" text references "colony" ("id") deferrable initially immediate
)${end}`,
    `create table "tube" (
  "id" text primary key,
  "code" text not null,
  "form" text not null check ("form" in ('capillary', 'vial', 'tip')),
  "bore_mm" ${real},
  "slot" text,
  "stored_where" text,
  "temperature_c" ${real},
  "mixing" text check ("mixing" in ('layered', 'stirred', 'homogenised'))
)${end}`,
    `create table "bench_event" (
  "id" text primary key,
  "bench_day" text not null references "bench_day" ("id") deferrable initially immediate,
  "cross" text references "cross" ("id") deferrable initially immediate,
  "moment" text not null,
  "what" text not null check ("what" in ('tip', 'capillary', 'paused', 'resumed', 'stop-taken-away', 'stop-passed', 'set-out', 'put-away')),
  "tip" integer check ("tip" >= 0),
  "tube" text references "tube" ("id") deferrable initially immediate,
  "queen" text references "queen" ("id") deferrable initially immediate,
  "words" text,
  "reason" text
)${end}`,
    `create table "drone_catch" (
  "id" text primary key,
  "code" text,
  "bench_day" text references "bench_day" ("id") deferrable initially immediate,
  "day" text not null,
  "moment" text,
  "taken" integer check ("taken" >= 0),
  "left_over" integer check ("left_over" >= 0),
  "gave" integer check ("gave" >= 0),
  "stranger_share" ${real} check ("stranger_share" >= 0 and "stranger_share" <= 1),
  "age_from" integer check ("age_from" >= 0),
  "age_to" integer check ("age_to" >= 0)
)${end}`,
    `create table "drone_catch_source" (
  "id" text primary key,
  "catch" text not null references "drone_catch" ("id") deferrable initially immediate,
  "mother" text references "queen" ("id") deferrable initially immediate,
  "colony" text references "colony" ("id") deferrable initially immediate,
  "comb" text references "drone_comb" ("id") deferrable initially immediate,
  "sister_group" text references "sister_group" ("id") deferrable initially immediate,
  "share" ${real} check ("share" >= 0 and "share" <= 1),
  "told_apart" text
)${end}`,
    `create table "drone_catch_reason" (
  "id" text primary key,
  "catch" text not null references "drone_catch" ("id") deferrable initially immediate,
  "tube" text references "tube" ("id") deferrable initially immediate,
  "reason" text not null check ("reason" in ('faeces', 'mucus', 'bubble', 'immature', 'other')),
  "count" integer not null check ("count" >= 0)
)${end}`,
    `create table "insemination" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "bench_day" text references "bench_day" ("id") deferrable initially immediate,
  "cross" text references "cross" ("id") deferrable initially immediate,
  "day" text,
  "moment" text,
  "operator" text references "person" ("id") deferrable initially immediate,
  "tip" text,
  "tries" integer check ("tries" >= 0),
  "given_ul" ${real} check ("given_ul" >= 0),
  "drones" ${real},
  "done" integer not null check ("done" in (0, 1)),
  "not_done_why" text check ("not_done_why" in ('dead', 'gone', 'crippled', 'too-small', 'put-back', 'other')),
  "left_nothing" integer check ("left_nothing" in (0, 1)),
  "closed" text
)${end}`,
    `create table "parcel" (
  "id" text primary key,
  "direction" text not null check ("direction" in ('sent', 'received')),
  "day" text,
  "other" text references "person" ("id") deferrable initially immediate,
  "what" text,
  "papers" text
)${end}`,
    `create table "ledger_line" (
  "id" text primary key,
  "tube" text not null references "tube" ("id") deferrable initially immediate,
  "place" integer not null check ("place" >= 0),
  "step" text not null check ("step" in ('collected', 'drawn-over', 'diluent', 'stirred', 'homogenised', 'spun-off', 'sealed', 'frozen', 'thawed', 'dose', 'lost', 'broken', 'sent', 'received', 're-measured', 'withdrawn')),
  "moment" text not null,
  "person" text references "person" ("id") deferrable initially immediate,
  "volume_ul" ${real} check ("volume_ul" >= 0),
  "semen_ul" ${real} check ("semen_ul" >= 0),
  "drones" ${real},
  "catch" text references "drone_catch" ("id") deferrable initially immediate,
  "source" text references "drone_catch_source" ("id") deferrable initially immediate,
  "from_tube" text references "tube" ("id") deferrable initially immediate,
  "from_end" text check ("from_end" in ('filled', 'other')),
  "end" text check ("end" in ('filled', 'other')),
  "insemination" text references "insemination" ("id") deferrable initially immediate,
  "parcel" text references "parcel" ("id") deferrable initially immediate,
  "corrects" text references "ledger_line" ("id") deferrable initially immediate,
  "read_how" text check ("read_how" in ('scale', 'bore', 'eye'))
)${end}`,
    `create table "insemination_source" (
  "id" text primary key,
  "insemination" text not null references "insemination" ("id") deferrable initially immediate,
  "queen" text references "queen" ("id") deferrable initially immediate,
  "sister_group" text references "sister_group" ("id") deferrable initially immediate,
  "line" text references "line" ("id") deferrable initially immediate,
  "share" ${real} check ("share" >= 0 and "share" <= 1),
  "alternative" integer check ("alternative" in (0, 1))
)${end}`,
    `create table "insemination_exception" (
  "id" text primary key,
  "insemination" text not null references "insemination" ("id") deferrable initially immediate,
  "kind" text not null check ("kind" in ('leak', 'hard-to-pass', 'chamber-closed', 'injury', 'faeces', 'bubble', 'plug', 'second-try', 'died', 'woke', 'escaped', 'semen-short', 'semen-watery', 'flagged')),
  "words" text
)${end}`,
    `create table "co2_treatment" (
  "id" text primary key,
  "moment" text not null,
  "minutes" ${real},
  "relation" text not null check ("relation" in ('before', 'with', 'after')),
  "bench_day" text references "bench_day" ("id") deferrable initially immediate,
  "person" text references "person" ("id") deferrable initially immediate
)${end}`,
    `create table "co2_queen" (
  "id" text primary key,
  "treatment" text not null references "co2_treatment" ("id") deferrable initially immediate,
  "queen" text not null references "queen" ("id") deferrable initially immediate
)${end}`,
    `create table "lab_result" (
  "id" text primary key,
  "queen" text references "queen" ("id") deferrable initially immediate,
  "tube" text references "tube" ("id") deferrable initially immediate,
  "catch" text references "drone_catch" ("id") deferrable initially immediate,
  "day" text,
  "what" text not null,
  "value" ${real},
  "unit" text,
  "live" integer check ("live" >= 0),
  "dead" integer check ("dead" >= 0),
  "colour" text
)${end}`,
    `create table "care" (
  "id" text primary key,
  "form" text not null check ("form" in ('cage', 'box', 'nuc')),
  "care_from" text not null,
  "care_to" text,
  "attendants" integer check ("attendants" >= 0),
  "attendants_ml" ${real},
  "temperature_c" ${real},
  "person" text references "person" ("id") deferrable initially immediate
)${end}`,
    `create table "care_queen" (
  "id" text primary key,
  "care" text not null references "care" ("id") deferrable initially immediate,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "cage" text references "cage" ("id") deferrable initially immediate,
  "found_dead" integer check ("found_dead" in (0, 1))
)${end}`,
    `create table "introduction" (
  "id" text primary key,
  "queen" text not null references "queen" ("id") deferrable initially immediate,
  "day" text not null,
  "colony" text references "colony" ("id") deferrable initially immediate,
  "method" text,
  "accepted" integer check ("accepted" in (0, 1)),
  "excluder" integer check ("excluder" in (0, 1)),
  "excluder_off" text
)${end}`,
    `create table "laying_check" (
  "id" text primary key,
  "queen" text references "queen" ("id") deferrable initially immediate,
  "colony" text references "colony" ("id") deferrable initially immediate,
  "day" text not null,
  "queen_seen" text check ("queen_seen" in ('seen', 'unmarked', 'other', 'not-seen')),
  "cells_looked" integer check ("cells_looked" >= 0),
  "gaps" integer check ("gaps" >= 0),
  "person" text references "person" ("id") deferrable initially immediate
)${end}`,
    `create table "laying_sight" (
  "id" text primary key,
  "laying_check" text not null references "laying_check" ("id") deferrable initially immediate,
  "saw" text not null check ("saw" in ('no-eggs', 'eggs', 'several-in-a-cell', 'worker-caps', 'drone-caps', 'queen-cells', 'another-queen', 'queen-gone', 'own-workers', 'not-opened'))
)${end}`,
    `create table "score" (
  "id" text primary key,
  "colony" text references "colony" ("id") deferrable initially immediate,
  "queen" text references "queen" ("id") deferrable initially immediate,
  "trait" text not null,
  "value" ${real} not null,
  "unit" text,
  "span_from" text,
  "day" text not null,
  "person" text references "person" ("id") deferrable initially immediate,
  "judged_hers" text check ("judged_hers" in ('wholly', 'partly', 'not'))
)${end}`,
    `create table "note" (
  "id" text primary key,
  "about_kind" text not null,
  "about" text not null,
  "words" text not null,
  "day" text,
  "person" text references "person" ("id") deferrable initially immediate
)${end}`,
    `create table "photo" (
  "id" text primary key,
  "about_kind" text not null,
  "about" text not null,
  "hash" text not null,
  "form" text not null check ("form" in ('image/jpeg', 'image/png', 'image/webp')),
  "taken_on" text,
  "width" integer check ("width" >= 0),
  "height" integer check ("height" >= 0)
)${end}`,
    `create table "worry" (
  "id" text primary key,
  "about_kind" text,
  "about" text,
  "code" text not null,
  "said" text not null,
  "settled_on" text,
  "settled_how" text
)${end}`,
    `create table "setting" (
  "id" text primary key,
  "name" text not null,
  "value" text not null
)${end}`,
    `create index "line_founder_line" on "line_founder" ("line")`,
    `create index "line_founder_queen" on "line_founder" ("queen")`,
    `create index "sister_group_dam" on "sister_group" ("dam")`,
    `create index "sister_group_line" on "sister_group" ("line")`,
    `create index "queen_dam" on "queen" ("dam")`,
    `create index "queen_cell" on "queen" ("cell")`,
    `create index "queen_line" on "queen" ("line")`,
    `create index "queen_sister_group" on "queen" ("sister_group")`,
    `create index "queen_owner" on "queen" ("owner")`,
    `create index "queen_keeper" on "queen" ("keeper")`,
    `create index "queen_code_queen" on "queen_code" ("queen")`,
    `create index "mark_queen" on "mark" ("queen")`,
    `create index "colony_united_into" on "colony" ("united_into")`,
    `create index "colony_place_colony" on "colony_place" ("colony")`,
    `create index "colony_place_yard" on "colony_place" ("yard")`,
    `create index "stay_queen" on "stay" ("queen")`,
    `create index "stay_colony" on "stay" ("colony")`,
    `create index "stay_cage" on "stay" ("cage")`,
    `create index "identity_exchange_one" on "identity_exchange" ("one")`,
    `create index "identity_exchange_other" on "identity_exchange" ("other")`,
    `create index "not_watched_yard" on "not_watched" ("yard")`,
    `create index "not_watched_colony" on "not_watched" ("colony")`,
    `create index "loan_queen" on "loan" ("queen")`,
    `create index "loan_lent_to" on "loan" ("lent_to")`,
    `create index "fate_queen" on "fate" ("queen")`,
    `create index "guess_about" on "guess" ("about")`,
    `create index "cross_dam_cross" on "cross_dam" ("cross")`,
    `create index "cross_dam_queen" on "cross_dam" ("queen")`,
    `create index "cross_drone_source_cross" on "cross_drone_source" ("cross")`,
    `create index "cross_drone_source_queen" on "cross_drone_source" ("queen")`,
    `create index "cross_drone_source_sister_group" on "cross_drone_source" ("sister_group")`,
    `create index "cross_drone_source_line" on "cross_drone_source" ("line")`,
    `create index "cross_stand_in_cross" on "cross_stand_in" ("cross")`,
    `create index "cross_stand_in_queen" on "cross_stand_in" ("queen")`,
    `create index "task_cross" on "task" ("cross")`,
    `create index "task_yard" on "task" ("yard")`,
    `create index "graft_starter" on "graft" ("starter")`,
    `create index "graft_finisher" on "graft" ("finisher")`,
    `create index "graft_cross" on "graft" ("cross")`,
    `create index "graft_range_graft" on "graft_range" ("graft")`,
    `create index "graft_range_dam" on "graft_range" ("dam")`,
    `create index "graft_cell_graft" on "graft_cell" ("graft")`,
    `create index "drone_comb_mother" on "drone_comb" ("mother")`,
    `create index "drone_comb_colony" on "drone_comb" ("colony")`,
    `create index "drone_comb_holder" on "drone_comb" ("holder")`,
    `create index "drone_comb_cross" on "drone_comb" ("cross")`,
    `create index "planned_graft_dam" on "planned_graft" ("dam")`,
    `create index "planned_graft_graft" on "planned_graft" ("graft")`,
    `create index "planned_graft_use_planned_graft" on "planned_graft_use" ("planned_graft")`,
    `create index "planned_graft_use_cross" on "planned_graft_use" ("cross")`,
    `create index "planned_comb_mother" on "planned_comb" ("mother")`,
    `create index "planned_comb_sister_group" on "planned_comb" ("sister_group")`,
    `create index "planned_comb_line" on "planned_comb" ("line")`,
    `create index "planned_comb_drone_comb" on "planned_comb" ("drone_comb")`,
    `create index "planned_comb_use_planned_comb" on "planned_comb_use" ("planned_comb")`,
    `create index "planned_comb_use_cross" on "planned_comb_use" ("cross")`,
    `create index "task_planned_graft" on "task" ("planned_graft")`,
    `create index "task_planned_comb" on "task" ("planned_comb")`,
    `create index "biology_figure_profile" on "biology_figure" ("profile")`,
    `create index "mating_season_place" on "mating_season" ("place")`,
    `create index "mating_season_source_season" on "mating_season_source" ("season")`,
    `create index "mating_season_source_queen" on "mating_season_source" ("queen")`,
    `create index "mating_season_source_sister_group" on "mating_season_source" ("sister_group")`,
    `create index "natural_mating_queen" on "natural_mating" ("queen")`,
    `create index "natural_mating_season" on "natural_mating" ("season")`,
    `create index "pool_word_queen" on "pool_word" ("queen")`,
    `create index "pool_word_mother" on "pool_word" ("mother")`,
    `create index "pool_word_sister_group" on "pool_word" ("sister_group")`,
    `create index "pool_word_line" on "pool_word" ("line")`,
    `create index "saline_batch_made_by" on "saline_batch" ("made_by")`,
    `create index "bench_day_saline" on "bench_day" ("saline")`,
    `create index "bench_day_operator" on "bench_day" ("operator")`,
    `create index "bench_queen_bench_day" on "bench_queen" ("bench_day")`,
    `create index "bench_queen_cross" on "bench_queen" ("cross")`,
    `create index "bench_queen_queen" on "bench_queen" ("queen")`,
    `create index "bench_queen_cage" on "bench_queen" ("cage")`,
    `create index "bench_queen_home" on "bench_queen" ("home")`,
    `create index "bench_event_bench_day" on "bench_event" ("bench_day")`,
    `create index "bench_event_cross" on "bench_event" ("cross")`,
    `create index "bench_event_tube" on "bench_event" ("tube")`,
    `create index "bench_event_queen" on "bench_event" ("queen")`,
    `create index "drone_catch_bench_day" on "drone_catch" ("bench_day")`,
    `create index "drone_catch_source_catch" on "drone_catch_source" ("catch")`,
    `create index "drone_catch_source_mother" on "drone_catch_source" ("mother")`,
    `create index "drone_catch_source_colony" on "drone_catch_source" ("colony")`,
    `create index "drone_catch_source_comb" on "drone_catch_source" ("comb")`,
    `create index "drone_catch_source_sister_group" on "drone_catch_source" ("sister_group")`,
    `create index "drone_catch_reason_catch" on "drone_catch_reason" ("catch")`,
    `create index "drone_catch_reason_tube" on "drone_catch_reason" ("tube")`,
    `create index "ledger_line_tube" on "ledger_line" ("tube")`,
    `create index "ledger_line_person" on "ledger_line" ("person")`,
    `create index "ledger_line_catch" on "ledger_line" ("catch")`,
    `create index "ledger_line_source" on "ledger_line" ("source")`,
    `create index "ledger_line_from_tube" on "ledger_line" ("from_tube")`,
    `create index "ledger_line_insemination" on "ledger_line" ("insemination")`,
    `create index "ledger_line_parcel" on "ledger_line" ("parcel")`,
    `create index "ledger_line_corrects" on "ledger_line" ("corrects")`,
    `create index "insemination_queen" on "insemination" ("queen")`,
    `create index "insemination_bench_day" on "insemination" ("bench_day")`,
    `create index "insemination_cross" on "insemination" ("cross")`,
    `create index "insemination_operator" on "insemination" ("operator")`,
    `create index "insemination_source_insemination" on "insemination_source" ("insemination")`,
    `create index "insemination_source_queen" on "insemination_source" ("queen")`,
    `create index "insemination_source_sister_group" on "insemination_source" ("sister_group")`,
    `create index "insemination_source_line" on "insemination_source" ("line")`,
    `create index "insemination_exception_insemination" on "insemination_exception" ("insemination")`,
    `create index "co2_treatment_bench_day" on "co2_treatment" ("bench_day")`,
    `create index "co2_treatment_person" on "co2_treatment" ("person")`,
    `create index "co2_queen_treatment" on "co2_queen" ("treatment")`,
    `create index "co2_queen_queen" on "co2_queen" ("queen")`,
    `create index "lab_result_queen" on "lab_result" ("queen")`,
    `create index "lab_result_tube" on "lab_result" ("tube")`,
    `create index "lab_result_catch" on "lab_result" ("catch")`,
    `create index "parcel_other" on "parcel" ("other")`,
    `create index "care_person" on "care" ("person")`,
    `create index "care_queen_care" on "care_queen" ("care")`,
    `create index "care_queen_queen" on "care_queen" ("queen")`,
    `create index "care_queen_cage" on "care_queen" ("cage")`,
    `create index "introduction_queen" on "introduction" ("queen")`,
    `create index "introduction_colony" on "introduction" ("colony")`,
    `create index "laying_check_queen" on "laying_check" ("queen")`,
    `create index "laying_check_colony" on "laying_check" ("colony")`,
    `create index "laying_check_person" on "laying_check" ("person")`,
    `create index "laying_sight_laying_check" on "laying_sight" ("laying_check")`,
    `create index "score_colony" on "score" ("colony")`,
    `create index "score_queen" on "score" ("queen")`,
    `create index "score_person" on "score" ("person")`,
    `create index "note_about" on "note" ("about")`,
    `create index "note_person" on "note" ("person")`,
    `create index "photo_about" on "photo" ("about")`,
    `create index "worry_about" on "worry" ("about")`,
    `create index "queen_code_now" on "queen" ("code")`,
  ];
}
