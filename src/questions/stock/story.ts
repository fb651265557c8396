import { dayOfInsemination } from '#gather/matings.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { dayOfMoment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';

/** One event in a queen's life: when, which sentence, with which values, from which record. `day` null: nobody wrote when. */
export type StoryEvent = {
  day: Day | null;
  /** The last day it can have been, when the day is a span. */
  latest: Day | null;
  code: string;
  values: Record<string, string | number>;
  record: { kind: KindName; id: string };
};

/** The kinds {@link storyOf} reads. */
export const storyReads = [
  'queen',
  'mark',
  'stay',
  'colony',
  'cage',
  'queen_code',
  'insemination',
  'insemination_source',
  'insemination_exception',
  'ledger_line',
  'tube',
  'natural_mating',
  'pool_word',
  'co2_queen',
  'co2_treatment',
  'care_queen',
  'care',
  'introduction',
  'laying_check',
  'laying_sight',
  'score',
  'graft_range',
  'graft',
  'drone_comb',
  'lab_result',
  'loan',
  'person',
  'identity_exchange',
  'fate',
  'note',
] as const satisfies readonly KindName[];

type Told = Omit<StoryEvent, 'latest' | 'values'> & { latest?: Day | null; values?: StoryEvent['values'] };
const event = ({ latest = null, values = {}, ...told }: Told): StoryEvent => ({ ...told, latest, values });

const known = (values: Record<string, string | number | null | undefined>): StoryEvent['values'] =>
  Object.fromEntries(Object.entries(values).flatMap(([key, value]) => (value == null ? [] : [[key, value]])));

type Teller = (facts: Facts, queen: RecordId) => Promise<StoryEvent[]>;

const beginnings: Teller = async (facts, queen) => {
  const her = await facts.get('queen', queen);
  if (her === null) return [];
  const record = { kind: 'queen' as const, id: her.id };
  const born = her.emerged !== null || her.year !== null;
  return [
    ...(born
      ? [
          event({
            day: her.emerged,
            code: her.emerged === null ? 'emerged-in' : 'emerged',
            values: known({ about: her.emerged_about ?? 0, year: her.year }),
            record,
          }),
        ]
      : []),
    ...(her.came_on === null
      ? []
      : [event({ day: her.came_on, code: 'came', values: { origin: her.origin ?? 'bred' }, record })]),
  ];
};

const marks: Teller = async (facts, queen) =>
  (await facts.find('mark', { queen })).map((row) =>
    event({
      day: row.worn_from,
      code: row.lost === 1 ? 'mark-lost' : 'marked',
      values: known({ colour: row.colour ?? '', disc: row.disc ?? 0, clip: row.clip ?? 'none' }),
      record: { kind: 'mark', id: row.id },
    }),
  );

const stays: Teller = async (facts, queen) => {
  const rows = await facts.find('stay', { queen });
  const colonies = new Map((await facts.find('colony')).map(({ id, code }) => [id, code]));
  const cages = new Map((await facts.find('cage')).map(({ id, number }) => [id, number]));
  return rows.map((row) => {
    const place =
      row.colony !== null ? (colonies.get(row.colony) ?? '') : row.cage === null ? '' : (cages.get(row.cage) ?? '');
    return event({
      day: row.from_earliest ?? row.from_latest,
      latest: row.from_latest,
      code: row.colony === null ? 'caged' : 'stands',
      values: known({ place, why: row.why ?? '' }),
      record: { kind: 'stay', id: row.id },
    });
  });
};

const codes: Teller = async (facts, queen) =>
  (await facts.find('queen_code', { queen })).map((row) =>
    event({
      day: row.borne_to,
      code: 'bore-code',
      values: known({ code: row.code, by: row.given_by ?? '' }),
      record: { kind: 'queen_code', id: row.id },
    }),
  );

const inseminations: Teller = async (facts, queen) => {
  const rows = await facts.find('insemination', { queen });
  const ids = rows.map(({ id }) => id);
  const sources = await facts.find('insemination_source', { insemination: ids });
  const exceptions = await facts.find('insemination_exception', { insemination: ids });
  const doses = await facts.find('ledger_line', { insemination: ids });
  const tubes = new Map((await facts.find('tube')).map(({ id, code }) => [id, code]));
  const mothers = sources.flatMap(({ queen: mother }) => (mother === null ? [] : [mother]));
  const names = new Map((await facts.find('queen', { id: mothers })).map(({ id, code }) => [id, code ?? '']));
  return rows.map((row) => {
    const from = [
      ...doses.filter(({ insemination }) => insemination === row.id).map(({ tube }) => tubes.get(tube) ?? ''),
      ...sources
        .filter(({ insemination }) => insemination === row.id)
        .map(({ queen: mother }) => (mother === null ? '' : (names.get(mother) ?? ''))),
    ].filter((name) => name !== '');
    const went = exceptions.filter(({ insemination }) => insemination === row.id).map(({ kind }) => kind);
    return event({
      day: dayOfInsemination(row),
      code: row.done === 1 ? 'inseminated' : 'not-inseminated',
      values: known({
        ul: row.given_ul ?? 0,
        from: from.join(', '),
        why: row.not_done_why ?? '',
        exceptions: went.join(', '),
      }),
      record: { kind: 'insemination', id: row.id },
    });
  });
};

const matings: Teller = async (facts, queen) => [
  ...(await facts.find('natural_mating', { queen })).map((row) =>
    event({
      day: row.flew_from,
      latest: row.flew_to,
      code: row.suspected === 1 ? 'mated-perhaps' : 'mated',
      record: { kind: 'natural_mating', id: row.id },
    }),
  ),
  ...(await facts.find('pool_word', { queen })).slice(0, 1).map((row) =>
    event({
      day: row.said_on,
      code: 'sellers-word',
      values: known({ by: row.said_by ?? '' }),
      record: { kind: 'pool_word', id: row.id },
    }),
  ),
];

const treatments: Teller = async (facts, queen) => {
  const rows = await facts.find('co2_queen', { queen });
  const of = new Map(
    (await facts.find('co2_treatment', { id: rows.map(({ treatment }) => treatment) })).map((row) => [row.id, row]),
  );
  return rows.flatMap(({ treatment }) => {
    const row = of.get(treatment);
    if (row === undefined) return [];
    return [
      event({
        day: dayOfMoment(row.moment),
        code: 'co2',
        values: known({ minutes: row.minutes ?? 0, relation: row.relation }),
        record: { kind: 'co2_treatment', id: row.id },
      }),
    ];
  });
};

const cares: Teller = async (facts, queen) => {
  const rows = await facts.find('care_queen', { queen });
  const of = new Map((await facts.find('care', { id: rows.map(({ care }) => care) })).map((row) => [row.id, row]));
  return rows.flatMap(({ care, found_dead }) => {
    const row = of.get(care);
    if (row === undefined) return [];
    return [
      event({
        day: row.care_from,
        latest: row.care_to,
        code: found_dead === 1 ? 'care-dead' : 'care',
        values: { form: row.form },
        record: { kind: 'care', id: row.id },
      }),
    ];
  });
};

const introductions: Teller = async (facts, queen) =>
  (await facts.find('introduction', { queen })).map((row) =>
    event({
      day: row.day,
      code: 'introduced',
      values: { accepted: row.accepted === null ? 'open' : row.accepted === 1 ? 'yes' : 'no' },
      record: { kind: 'introduction', id: row.id },
    }),
  );

const looks: Teller = async (facts, queen) => {
  const rows = await facts.find('laying_check', { queen });
  const sights = await facts.find('laying_sight', { laying_check: rows.map(({ id }) => id) });
  return rows.map((row) =>
    event({
      day: row.day,
      code: 'looked',
      values: {
        saw: sights
          .filter(({ laying_check }) => laying_check === row.id)
          .map(({ saw }) => saw)
          .join(','),
        seen: row.queen_seen ?? 'not-said',
      },
      record: { kind: 'laying_check', id: row.id },
    }),
  );
};

const scores: Teller = async (facts, queen) =>
  (await facts.find('score', { queen })).map((row) =>
    event({
      day: row.day,
      code: 'scored',
      values: known({ trait: row.trait, value: row.value, unit: row.unit ?? '' }),
      record: { kind: 'score', id: row.id },
    }),
  );

const usedFor: Teller = async (facts, queen) => {
  const ranges = await facts.find('graft_range', { dam: queen });
  const grafts = await facts.find('graft', { id: [...new Set(ranges.map(({ graft }) => graft))] });
  const combs = await facts.find('drone_comb', { mother: queen });
  return [
    ...grafts.map((row) =>
      event({ day: row.day, code: 'grafted-from', values: { graft: row.code }, record: { kind: 'graft', id: row.id } }),
    ),
    ...combs.map((row) =>
      event({
        day: row.in_on ?? row.laid_from,
        code: 'gave-drones',
        values: { comb: row.code },
        record: { kind: 'drone_comb', id: row.id },
      }),
    ),
  ];
};

const loans: Teller = async (facts, queen) => {
  const rows = await facts.find('loan', { queen });
  const names = new Map(
    (await facts.find('person', { id: rows.map(({ lent_to }) => lent_to) })).map(({ id, name }) => [id, name]),
  );
  return rows.flatMap((row) => {
    const values = { to: names.get(row.lent_to) ?? '' };
    const record = { kind: 'loan' as const, id: row.id };
    return [
      event({ day: row.lent_on, code: 'lent', values, record }),
      ...(row.back_on === null ? [] : [event({ day: row.back_on, code: 'came-back', values, record })]),
    ];
  });
};

const exchanges: Teller = async (facts, queen) => {
  const rows = [
    ...(await facts.find('identity_exchange', { one: queen })),
    ...(await facts.find('identity_exchange', { other: queen })),
  ];
  const others = rows.map(({ one, other }) => (one === queen ? other : one));
  const names = new Map((await facts.find('queen', { id: others })).map(({ id, code }) => [id, code ?? '']));
  return rows.map((row) => {
    const other = row.one === queen ? row.other : row.one;
    return event({
      day: row.exchanged_on,
      latest: row.noticed_on,
      code: 'exchanged',
      values: { other: names.get(other) ?? '' },
      record: { kind: 'identity_exchange', id: row.id },
    });
  });
};

const results: Teller = async (facts, queen) =>
  (await facts.find('lab_result', { queen })).map((row) =>
    event({
      day: row.day,
      code: 'lab-result',
      values: known({ what: row.what }),
      record: { kind: 'lab_result', id: row.id },
    }),
  );

const notes: Teller = async (facts, queen) =>
  (await facts.find('note', { about: queen })).map((row) =>
    event({ day: row.day, code: 'note', values: { words: row.words }, record: { kind: 'note', id: row.id } }),
  );

const ends: Teller = async (facts, queen) =>
  (await facts.find('fate', { queen })).map((row) =>
    event({
      day: row.happened_on,
      latest: row.happened_latest,
      code: 'fate',
      values: known({ kind: row.kind, cause: row.cause ?? '' }),
      record: { kind: 'fate', id: row.id },
    }),
  );

const tellers: readonly Teller[] = [
  beginnings,
  codes,
  marks,
  stays,
  treatments,
  inseminations,
  matings,
  cares,
  introductions,
  looks,
  usedFor,
  scores,
  results,
  loans,
  exchanges,
  notes,
  ends,
];

/** Everything written about a queen, in the order it happened; what has no day comes first. */
export async function storyOf(facts: Facts, queen: RecordId): Promise<StoryEvent[]> {
  const events: StoryEvent[] = [];
  for (const tell of tellers) events.push(...(await tell(facts, queen)));
  return events.sort((a, b) => ((a.day ?? '') < (b.day ?? '') ? -1 : Number((a.day ?? '') > (b.day ?? ''))));
}
