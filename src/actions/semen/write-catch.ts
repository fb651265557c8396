import { doubtsOfCatch } from '#domain/semen/catch-doubts.ts';
import { motherOfCatch } from '#domain/semen/catch-mother.ts';
import { gatherStays } from '#gather/stays.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import { doubt, type Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import type { Source } from './shapes.ts';

/** Ages of drones at collection where none is written: 12 to 28 days (Cobey, Tarpy and Woyke 2013, J. Apic. Res. 52(4)). */
const USUAL_AGES = { from: 12, to: 28 };

type Caught = { caught: Day; ageFrom: number; ageTo: number };

/** The records that say whose drones a catch holds, with their ids in the order given. */
export function sourcesMade(
  from: RecordId,
  sources: readonly Source[],
  { newId }: Circumstances,
): { ids: RecordId[]; changes: Change[] } {
  const changes = sources.map((source) => creating('drone_catch_source', newId(), { catch: from, ...source }));
  return { ids: changes.map(({ id }) => id), changes };
}

/** What is implausible about a named mother: long dead, or at the head of the holder for too short a time. */
async function doubtsOfMother(mother: RecordId, caught: Caught, colony: RecordId | undefined, book: Book) {
  const [fate] = await book.find('fate', { queen: mother });
  const stays = await gatherStays(book);
  const heading = stays.find((stay) => stay.queen === mother && stay.colony === colony && stay.role === 'heads');
  const ended = fate?.happened_latest ?? fate?.happened_on ?? null;
  return doubtsOfCatch(caught, { ended, heading: heading?.from?.latest ?? null });
}

async function doubtsOfSource(source: Source, path: string, caught: Caught, book: Book): Promise<Problem[]> {
  if (source.mother !== undefined) {
    const doubts = await doubtsOfMother(source.mother, caught, source.colony, book);
    return doubts.map((each) => ({
      ...each,
      path: `${path}.mother`,
      values: { ...each.values, kind: 'queen', id: source.mother ?? '' },
    }));
  }
  if (source.colony === undefined) return [];
  const found = motherOfCatch({ colony: source.colony, ...caught }, await gatherStays(book));
  if (found.answer === 'known') return [];
  const values = { kind: 'colony', id: source.colony, from: found.laid.first, to: found.laid.last };
  return found.answer === 'unknown'
    ? [doubt(`${path}.colony`, 'nobody-laid-them', values)]
    : [doubt(`${path}.colony`, 'which-mother-laid-them', { ...values, queens: found.candidates.length })];
}

/** What can be doubted about whose drones were caught. */
export async function doubtsOfSources(
  sources: readonly Source[],
  { day, age_from, age_to }: { day: Day; age_from?: number | undefined; age_to?: number | undefined },
  book: Book,
): Promise<Problem[]> {
  const caught = { caught: day, ageFrom: age_from ?? USUAL_AGES.from, ageTo: age_to ?? USUAL_AGES.to };
  const all: Problem[] = sources.length === 0 ? [doubt('sources', 'no-drone-mother')] : [];
  for (const [i, source] of sources.entries())
    all.push(...(await doubtsOfSource(source, `sources.${i}`, caught, book)));
  return all;
}
