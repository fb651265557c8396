import type { Day } from '#units/calendar-day.ts';
import { Bearers, isYounger, keyOfRow } from './bearers.ts';
import type { Answers } from './choices.ts';
import type { DraftRow } from './draft-row.ts';
import type { Meaning } from './meaning.ts';
import type { BookFacts, PlannedGroup, PlannedMating, PlannedPart, PlannedQueen, QueenRef } from './plan.ts';
import type { RowProblem, RowProblemCode } from './row-problem.ts';

/** What linking needs to know besides the rows. */
export type LinkContext = {
  book: BookFacts;
  answers: Answers;
  columnOf: ReadonlyMap<Meaning, number>;
  /** A mother without a row is refused, not made (plain tables of the command line). */
  strict: boolean;
};

/** Rows linked to each other and to the book. */
export type Linked = {
  queens: PlannedQueen[];
  groups: PlannedGroup[];
  problems: RowProblem[];
  /** Codes of mothers and drone mothers nobody has a row for. */
  unknown: Map<string, number>;
};

/** How many drone mothers stand behind one named mother, when nobody says. */
export const USUAL_SISTERS = 10;

/** A code nobody bears is looked up among near ones only so often: a long list of them is another sheet, not slips. */
const MOST_NEAR = 300;

class Linking {
  readonly made = new Map<string, PlannedQueen>();
  readonly groups = new Map<string, PlannedGroup>();
  readonly problems: RowProblem[] = [];
  readonly unknown = new Map<string, number>();
  readonly context: LinkContext;
  readonly bearers: Bearers;
  #near = new Map<string, string[]>();

  constructor(drafts: readonly DraftRow[], context: LinkContext) {
    this.context = context;
    this.bearers = new Bearers(drafts, context.book);
    for (const draft of drafts) if (draft.sisters !== null) this.#groupOfRow(draft);
  }

  #groupOfRow({ code, sisters, year, line }: DraftRow): void {
    this.groups.set(`row:${code}`, { key: `row:${code}`, code, size: sisters ?? 1, dam: null, year, line });
  }

  near(code: string): string[] {
    const known = this.#near.get(code);
    if (known !== undefined) return known;
    const found = this.#near.size < MOST_NEAR ? this.bearers.near(code) : [];
    this.#near.set(code, found);
    return found;
  }

  tell(draft: DraftRow, meaning: Meaning, code: RowProblemCode, told: Partial<RowProblem>): void {
    const column = this.context.columnOf.get(meaning) ?? null;
    this.problems.push({
      row: draft.row,
      column,
      code,
      found: '',
      values: {},
      weight: 'must',
      suggestions: [],
      ...told,
    });
  }

  /** A queen of whom only the code is known is written down once; or she stays unknown, as the person wishes. */
  #unknownQueen(draft: DraftRow, name: string, meaning: 'dam' | 'drones'): QueenRef | null {
    this.unknown.set(name, (this.unknown.get(name) ?? 0) + 1);
    const { strict, answers } = this.context;
    const code = meaning === 'dam' ? 'row-dam-unknown' : 'row-drone-mother-unknown';
    const makes = answers.unknownMothers !== 'leave';
    const values = { code: name, made: makes ? 1 : 0 };
    this.tell(draft, meaning, code, {
      found: name,
      values,
      weight: strict ? 'must' : 'choice',
      suggestions: this.near(name),
    });
    if (!makes) {
      draft.notes.push(`${meaning === 'dam' ? '♀' : '♂'} ${name}`);
      return null;
    }
    const key = `made:${name}`;
    if (!this.made.has(key)) this.made.set(key, { key, made: true, draft: null, code: name, dam: null, mating: null });
    return { planned: key };
  }

  /** The queen a code means in a row: of sheet or book, told when it was read loosely; made or left where nobody bears it. */
  queenNamed(draft: DraftRow, name: string, meaning: 'dam' | 'drones'): QueenRef | null {
    const before = { day: draft.emerged?.day ?? null, year: draft.year };
    // A queen may be her own drone mother; she is never her own dam.
    const not = meaning === 'dam' ? draft.row : null;
    const found = this.bearers.find(name, { before: meaning === 'dam' ? before : { day: null, year: null }, not });
    if (found === null) return this.#unknownQueen(draft, name, meaning);
    if (meaning === 'dam' && isOlderThan(draft, found)) {
      const values = {
        dam: found.code,
        damEmerged: found.emerged ?? String(found.year),
        emerged: draft.emerged?.day ?? String(draft.year),
      };
      this.tell(draft, 'dam', 'row-older-than-dam', { found: name, values });
    }
    if (found.code !== name && !this.bearers.isCode(name))
      this.tell(draft, meaning, 'row-dam-read-as', { found: name, values: { read: found.code }, weight: 'said' });
    return found.ref;
  }

  damOf(draft: DraftRow): QueenRef | null {
    if (draft.dam === null) return null;
    if (this.groups.has(`row:${draft.dam}`)) {
      this.tell(draft, 'dam', 'row-dam-is-group', { found: draft.dam });
      return null;
    }
    return this.queenNamed(draft, draft.dam, 'dam');
  }

  /** Where only the mother of the drone mothers is named: her unrecorded daughters are a group. */
  #daughtersOf(draft: DraftRow, name: string): { group: string } | null {
    const dam = this.queenNamed(draft, name, 'drones');
    const size = this.context.answers.sistersEach ?? USUAL_SISTERS;
    const key = `daughters:${name}`;
    if (!this.groups.has(key))
      this.groups.set(key, { key, code: `${size} × ${name}`, size, dam, year: null, line: null });
    return { group: key };
  }

  #partNamed(draft: DraftRow, name: string): PlannedPart['of'] | null {
    if (name.toLowerCase() === 'open') return 'open';
    switch (this.context.answers.dronesName) {
      case 'line':
        return { line: name };
      case 'her-mother':
        return this.#daughtersOf(draft, name);
      default:
        return this.groups.has(`row:${name}`) ? { group: `row:${name}` } : this.queenNamed(draft, name, 'drones');
    }
  }

  matingOf(draft: DraftRow): PlannedMating | null {
    const { mating, inseminated: on, drones, dose, batch } = draft;
    if (batch !== null) return { how: 'batch', batch, on, drones, dose };
    if (mating === null)
      return on === null && dose === null ? null : { how: 'inseminated', oneOf: false, parts: [], on, drones, dose };
    if (mating.is === 'open') return { how: 'open', on, drones };
    if (this.context.answers.dronesName === 'place')
      return {
        how: 'place',
        place: mating.parts[0]?.code ?? '',
        year: on === null ? draft.year : Number(on.slice(0, 4)),
      };
    const parts = mating.parts.flatMap(({ code, share }): PlannedPart[] => {
      const of = this.#partNamed(draft, code);
      return of === null ? [] : [{ of, share }];
    });
    // "open" alone is a flight; as a part of a mixture it is drones nobody knows.
    if (parts.length === 1 && parts[0]?.of === 'open') return { how: 'open', on, drones };
    return { how: 'inseminated', oneOf: mating.oneOf, parts, on, drones, dose };
  }
}

const firstDay = (draft: DraftRow): Day | null => draft.emerged?.day ?? null;

/** Whether a daughter surely emerged before (or with) the queen named as her dam. "About" days are given the benefit. */
function isOlderThan(draft: DraftRow, dam: { emerged: Day | null; year: number | null }): boolean {
  if (draft.emerged?.about != null) return draft.year !== null && dam.year !== null && draft.year < dam.year;
  return isYounger(dam, { day: firstDay(draft), year: draft.year });
}

/** Links every row to the queens it names, in the sheet, in the book, or made. */
export function linkRows(drafts: readonly DraftRow[], context: LinkContext): Linked {
  const linking = new Linking(drafts, context);
  const queens = drafts
    .filter(({ sisters }) => sisters === null)
    .map((draft): PlannedQueen => {
      const key = keyOfRow(draft.row);
      return { key, made: false, draft, code: draft.code, dam: linking.damOf(draft), mating: linking.matingOf(draft) };
    });
  for (const draft of drafts) {
    const group = draft.sisters === null ? undefined : linking.groups.get(`row:${draft.code}`);
    if (group !== undefined) group.dam = linking.damOf(draft);
  }
  const { made, groups, problems, unknown } = linking;
  return { queens: [...made.values(), ...queens], groups: [...groups.values()], problems, unknown };
}
