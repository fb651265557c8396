import { z } from 'zod';
import { gatherNames } from '#gather/names.ts';
import type { Book, Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { type Problem, refuse, warn } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, dropping, setting } from '../mechanism/recording.ts';
import { usersOf } from '../mechanism/references.ts';
import { seasonSources, sourceProblems, standingProblems, stoodAs } from './season-sources.ts';

const input = z.strictObject({
  season: idShape,
  /** The name of the place it really was; written down when it is new. */
  place: z.string().trim().min(1).max(200).optional(),
  year: z.int().min(1900).max(2200).optional(),
  /** Everything that really stood there; replaces what was written. */
  sources: seasonSources.optional(),
  stood_from: dayShape.nullable().optional(),
  stood_to: dayShape.nullable().optional(),
  trusted: z.enum(['known', 'guessed']).nullable().optional(),
});
type Input = z.infer<typeof input>;

/** Takes the place of a season out of the book with it, when nothing else rests on that place. */
export async function leavingPlace(book: Book, { id, place }: Row<'mating_season'>): Promise<Change[]> {
  const others = (await usersOf(book, 'mating_place', [place])).filter((user) => user.id !== id);
  return others.length > 0 ? [] : [dropping('mating_place', place)];
}

type Moved = { at: RecordId; before: Change[]; after: Change[] };

/** The place a season is at by that name: the one it has, another that is known, or a new one. */
async function movedTo(name: string | undefined, row: Row<'mating_season'>, circumstances: Circumstances) {
  const { book, newId } = circumstances;
  const staying: Moved = { at: row.place, before: [], after: [] };
  if (name === undefined || (await book.get('mating_place', row.place))?.name === name) return staying;
  const [known] = await book.find('mating_place', { name });
  const left = await leavingPlace(book, row);
  if (known !== undefined) return { at: known.id, before: [], after: left };
  // A place of this season alone keeps its record and bears the other name.
  if (left.length > 0) return { ...staying, before: [setting('mating_place', row.place, { name })] };
  const at = newId();
  return { at, before: [creating('mating_place', at, { name })], after: [] };
}

async function sourceChanges(book: Book, { season, sources }: Input, newId: () => RecordId): Promise<Change[]> {
  if (sources === undefined) return [];
  const rows = await book.find('mating_season_source', { season });
  const [wanted, known] = [new Set(sources.map(stoodAs)), new Set(rows.map(stoodAs))];
  return [
    ...rows.filter((row) => !wanted.has(stoodAs(row))).map(({ id }) => dropping('mating_season_source', id)),
    ...sources
      .filter((source) => !known.has(stoodAs(source)))
      .map((source) => creating('mating_season_source', newId(), { season, ...source })),
  ];
}

/** Queens who flew on days of which nothing is written as standing there. */
async function flownOutside(book: Book, season: Row<'mating_season'>): Promise<Problem[]> {
  const { stood_from, stood_to } = season;
  const outside = (await book.find('natural_mating', { season: season.id })).filter(({ flew_from, flew_to }) => {
    const [first, last] = [flew_from ?? flew_to, flew_to ?? flew_from];
    return (
      (stood_to !== null && first !== null && first > stood_to) ||
      (stood_from !== null && last !== null && last < stood_from)
    );
  });
  if (outside.length === 0) return [];
  const nameOf = await gatherNames(book);
  return outside.map(({ queen, flew_from, flew_to }) =>
    warn('stood_from', 'flew-when-none-stood', { code: nameOf(queen), day: flew_from ?? flew_to ?? '' }),
  );
}

function changedFields(row: Row<'mating_season'>, { year, stood_from, stood_to, trusted }: Input, place: RecordId) {
  const given = { place, year, stood_from, stood_to, trusted };
  return Object.fromEntries(
    Object.entries(given).filter(([field, value]) => value !== undefined && row[field as keyof typeof given] !== value),
  );
}

/**
 * Corrects a season of a mating place: where and when it was, what stood there. What is worked out from it (kinship, brood, worth of the queens
 * who flew there and of their daughters) follows. The other seasons of the place stay where they are; a place left without any goes.
 */
export const correctMatingSeason = action({
  name: 'correct-mating-season',
  place: 'stock',
  what: 'Correct a season of a mating place: where and when it was, which drone mothers stood there.',
  input,
  async run(given, circumstances) {
    const { book, newId } = circumstances;
    const row = await book.get('mating_season', given.season);
    const no = (problems: readonly Problem[]) => ({ changes: [], result: null, problems });
    if (row === null) return no([refuse('season', 'unknown-mating-season')]);
    const to = await movedTo(given.place, row, circumstances);
    const set = changedFields(row, given, to.at);
    const after = { ...row, ...set };
    const problems = [...sourceProblems(given.sources ?? []), ...standingProblems(after.stood_from, after.stood_to)];
    if (problems.length > 0) return no(problems);
    return {
      changes: [
        ...to.before,
        ...(Object.keys(set).length === 0 ? [] : [setting('mating_season', row.id, set)]),
        ...to.after,
        ...(await sourceChanges(book, given, newId)),
      ],
      result: { id: row.id },
      problems: await flownOutside(book, after),
    };
  },
});
