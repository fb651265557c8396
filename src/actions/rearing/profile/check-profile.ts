import { figureKind, figureRefusals, profileRefusals, withFigures } from '#domain/rearing/profile-figures.ts';
import { profileNamed } from '#domain/rearing/profiles.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import type { Book } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import type { FigureEntry } from './shapes.ts';

/** A name that is taken: by a profile that ships, or by another of one's own. */
export async function nameProblems(book: Book, name: string, id: RecordId | null): Promise<Problem[]> {
  const plain = (text: string) => text.trim().toLowerCase().replace(/\s+/g, '-');
  const others = (await book.find('biology_profile')).filter((row) => row.id !== id);
  const isTaken = profileNamed(name) !== null || others.some((row) => plain(row.name) === plain(name));
  return isTaken ? [refuse('name', 'profile-name-taken', { profile: name })] : [];
}

/** Figures as they are typed: shares in per cent. */
function asTyped(problem: Problem): Problem {
  const { figure, ...values } = problem.values;
  const share = figureKind(String(figure))?.unit === 'share';
  const typed = Object.entries(values).map(([key, value]) => [
    key,
    share && typeof value === 'number' ? `${Math.round(value * 1000) / 10} %` : value,
  ]);
  return { ...problem, values: { ...Object.fromEntries(typed), figure: figure ?? '' } };
}

/** A figure with its range, which is the value itself where none was given. */
export const figureTyped = ({ figure: key, value, low, high, source }: FigureEntry) => ({
  key,
  value,
  low: low ?? Math.min(value, high ?? value),
  high: high ?? Math.max(value, low ?? value),
  source: source ?? '',
});

/** What stands against these figures: each by itself, and all of them together with the rest of the profile. */
export function figuresProblems(
  profile: Row<'biology_profile'>,
  kept: readonly Row<'biology_figure'>[],
  figures: readonly FigureEntry[],
): Problem[] {
  const typed = figures.map(figureTyped);
  const single = typed.flatMap((figure, i) => figureRefusals(figure, `figures.${i}`)).map(asTyped);
  if (single.length > 0) return single;
  const set = new Set(typed.map(({ key }) => key));
  const others = kept.filter(({ figure }) => !set.has(figure));
  const all = [...others.map((row) => ({ ...row, key: row.figure, source: '' })), ...typed];
  return profileRefusals(withFigures(profileNamed(profile.based_on) ?? standardText, profile.name, all));
}
