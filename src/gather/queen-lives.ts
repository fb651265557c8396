import type { QueenLife } from '#domain/lessons/survival-by-group.ts';
import { layingRecord } from '#domain/living/laying-record.ts';
import { type LivingFacts, livingState } from '#domain/living/living-state.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, laterOf } from '#units/calendar-day.ts';
import { gatherLiving, livingReads } from './living.ts';
import { gatherMatings, matingReads } from './matings.ts';
import { gatherNames, nameReads } from './names.ts';

export const queenLifeReads = [
  ...livingReads,
  ...matingReads,
  ...nameReads,
  'line',
] as const satisfies readonly KindName[];

/** How queens are parted to see how long they last. */
export const lifeGroups = ['mating', 'line', 'year'] as const;
export type LifeGroup = (typeof lifeGroups)[number];

/** What a queen culled by the breeder is: lost, as most are culled for failing; or watched until then, as those are that made room. */
export const culledAs = ['lost', 'watched'] as const;
export type CulledAs = (typeof culledAs)[number];

type Mated = { how: 'inseminated' | 'natural' | null; lastInseminated: Day | null };

/** How each queen mated, null for both ways, and the last day she was inseminated here; who has nothing written has no entry. */
async function matedHow(facts: Facts): Promise<Map<string, Mated>> {
  const how = new Map<string, Mated>();
  for (const { queen, inseminations, naturalMatings, sellersWords } of await gatherMatings(facts)) {
    const done = inseminations.filter((one) => one.done);
    const byInstrument = done.length > 0 || sellersWords.length > 0;
    const byHerself = naturalMatings.length > 0;
    if (!byInstrument && !byHerself) continue;
    const days = done.flatMap(({ day }) => day ?? []);
    how.set(queen, {
      how: byInstrument && byHerself ? null : byInstrument ? 'inseminated' : 'natural',
      lastInseminated: days.reduce<Day | null>((last, day) => (last === null ? day : laterOf(last, day)), null),
    });
  }
  return how;
}

/**
 * The first day a queen is known to lay here: seen laying, or come from elsewhere without having been mated here. One of whom only drone brood was
 * ever seen has not laid.
 */
function layingFrom(queen: Row<'queen'>, living: LivingFacts, today: Day, matedHere: boolean): Day | null {
  const came = queen.origin !== null && queen.origin !== 'bred' ? queen.came_on : null;
  const checks = living.checks.filter(({ day }) => day <= today && (came === null || day >= came));
  const record = layingRecord({ checks, since: came, isLost: false });
  if (came !== null && !matedHere) return came;
  const onlyDrones = record.brood === 'drone' && record.layingOn === null;
  return onlyDrones ? null : (record.began?.latest ?? null);
}

type Seen = { today: Day; matedHere: boolean; culled: CulledAs };

function lifeOf(queen: Row<'queen'>, living: LivingFacts, { today, matedHere, culled }: Seen) {
  const { end, lastSeen } = livingState(living, today);
  const watchedFrom = layingFrom(queen, living, today, matedHere);
  const ended = end === null ? lastSeen : (end.on?.latest ?? null);
  const watchedTo = ended !== null && ended > today ? today : ended;
  return {
    emerged: queen.emerged,
    watchedFrom,
    watchedTo,
    isLost: end?.isLoss === true && !(end.kind === 'culled' && culled === 'watched'),
  };
}

/** What is known of how long every queen of the book lasted, up to a day, each with her group. */
export async function gatherQueenLives(
  facts: Facts,
  { today, by, culled }: { today: Day; by: LifeGroup; culled: CulledAs },
): Promise<QueenLife[]> {
  const living = await gatherLiving(facts);
  const nameOf = await gatherNames(facts);
  const mated = await matedHow(facts);
  const lines = new Map((await facts.find('line')).map(({ id, name }) => [id, name]));
  return living.queens.map((queen) => {
    const groups: Record<LifeGroup, string | null> = {
      mating: mated.get(queen.id)?.how ?? null,
      line: queen.line === null ? null : (lines.get(queen.line) ?? null),
      year: queen.emerged?.slice(0, 4) ?? null,
    };
    const inseminated = mated.get(queen.id)?.lastInseminated ?? null;
    const matedHere = inseminated !== null && (queen.came_on === null || inseminated >= queen.came_on);
    const life = lifeOf(queen, living.of(queen.id), { today, matedHere, culled });
    return { queen: nameOf(queen.id), group: groups[by], ...life };
  });
}
