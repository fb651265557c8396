import { isAnother } from '#domain/living/check.ts';
import { askAbout } from '#domain/living/check-verdict.ts';
import { dayOfInsemination } from '#gather/matings.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { recountChecks } from './cross-checks.ts';
import { anotherQueen, endHerStay } from './found-another.ts';
import { about, type Look, problemsOfLook } from './look.ts';

async function lastInseminated(book: Book, queen: RecordId | null, by: Day): Promise<Day | null> {
  if (queen === null) return null;
  const done = await book.find('insemination', { queen, done: 1 });
  const days = done.map(dayOfInsemination).filter((day) => day !== null && day <= by);
  return days.sort().at(-1) ?? null;
}

/** What should be asked; early eggs are no question when she herself was seen. */
async function questionsAt(look: Look, path: string, book: Book): Promise<Problem[]> {
  const check = { day: look.day, sights: look.sights, queenSeen: look.queen_seen ?? null };
  const queen = look.queen === null ? null : await book.get('queen', look.queen);
  const asked = askAbout(check, await lastInseminated(book, look.queen, look.day));
  return asked.map((problem) => ({
    ...problem,
    path: `${path}${problem.path}`,
    values: { ...problem.values, ...about(look), code: queen?.code ?? '' },
    weight: problem.code === 'eggs-too-early' && look.queen_seen === 'seen' ? 'warn' : problem.weight,
  }));
}

function rowsOf(look: Look, check: RecordId, { newId }: Circumstances): Change[] {
  const { queen, colony, day, person } = look;
  const { queen_seen = null, cells_looked = null, gaps = null } = look;
  const note = { about_kind: 'laying_check', about: check, words: look.words ?? '', day, person };
  return [
    creating('laying_check', check, { queen, colony, day, person, queen_seen, cells_looked, gaps }),
    ...look.sights.map((saw) => creating('laying_sight', newId(), { laying_check: check, saw })),
    ...(look.words === undefined ? [] : [creating('note', newId(), note)]),
  ];
}

async function consequencesOf(look: Look, circumstances: Circumstances): Promise<Change[]> {
  const another = isAnother({ day: look.day, sights: look.sights, queenSeen: look.queen_seen ?? null });
  if (!another && !look.sights.includes('queen-gone')) return [];
  const ended = await endHerStay(look, circumstances);
  return [...ended, ...(another ? await anotherQueen(look, circumstances) : [])];
}

/** Everything some looks write, and what must be asked about them. `path` names the n-th look in the input. */
export async function writeLooks(
  looks: readonly Look[],
  path: (n: number) => string,
  circumstances: Circumstances,
): Promise<{ changes: Change[]; checks: RecordId[]; problems: Problem[] }> {
  const changes: Change[] = [];
  const checks: RecordId[] = [];
  const problems: Problem[] = [];
  for (const [n, look] of looks.entries()) {
    problems.push(...problemsOfLook(look, path(n)), ...(await questionsAt(look, path(n), circumstances.book)));
    const check = circumstances.newId();
    checks.push(check);
    changes.push(...rowsOf(look, check, circumstances), ...(await consequencesOf(look, circumstances)));
  }
  changes.push(...(await recountChecks(circumstances.book, looks)));
  return { changes, checks, problems };
}
