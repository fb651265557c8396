import { type LivingState, livingState } from '#domain/living/living-state.ts';
import { sourceKey } from '#domain/semen/drone-source.ts';
import { profileOf, wishOf } from '#gather/cross-plan.ts';
import { gatherLedger } from '#gather/ledger.ts';
import { type GatheredLiving, gatherLiving } from '#gather/living.ts';
import { gatherNames } from '#gather/names.ts';
import { gatherProfiles, type ProfileBook } from '#gather/profiles.ts';
import type { Facts } from '#ports/store.ts';
import { addDays, type Day, laterOf } from '#units/calendar-day.ts';
import { doubt, type Problem, warn } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Plan } from './plan.ts';

/** Suggestions named in one sentence. */
const MOST_NAMED = 3;

/** What a sentence is given where there is nothing to name. */
const NOT_KNOWN = 'none';

type Stock = { living: GatheredLiving; called: (id: string) => string; profiles: ProfileBook; today: Day };

const stateOf = ({ living, today }: Stock, queen: string): LivingState => livingState(living.of(queen), today);

/** Stand-ins of that side, sisters and daughters who are not gone, those seen alive first: what would work instead. */
function instead(plan: Plan, queen: RecordId, side: 'queen' | 'drone', stock: Stock): string {
  const standIns = plan.standIns.filter((each) => each.side === side).map((each) => each.queen);
  const dam = stock.living.queens.find(({ id }) => id === queen)?.dam ?? null;
  const kin = stock.living.queens
    .filter((other) => other.id !== queen && (other.dam === queen || (dam !== null && other.dam === dam)))
    .map(({ id }) => id);
  const inUse = new Set<string>([...plan.dams, ...plan.sources.flatMap((source) => source.queen ?? [])]);
  const works = [...new Set([...standIns, ...kin])]
    .map((id) => ({ id, state: stateOf(stock, id).state }))
    .filter(({ id, state }) => !inUse.has(id) && state !== 'gone')
    .sort((a, b) => Number(b.state === 'alive') - Number(a.state === 'alive'));
  const named = works.slice(0, MOST_NAMED).map(({ id }) => stock.called(id));
  return named.join(', ') || NOT_KNOWN;
}

const endOf = ({ end }: LivingState): Day | null => end?.on?.latest ?? null;

/** The last day the dam is needed alive: the graft, or today while there is no day. */
function neededUntil(plan: Plan, { profiles, today }: Stock): Day {
  const wish = wishOf(plan.cross, profiles);
  if (wish === null) return today;
  const { timings, usual } = wish.profile;
  return addDays(wish.inseminate, -(wish.queenAge ?? usual.queenAge) - timings.graftToEmergence.value);
}

function damProblems(plan: Plan, stock: Stock): Problem[] {
  const needed = neededUntil(plan, stock);
  return plan.dams.flatMap((dam, i): Problem[] => {
    const state = stateOf(stock, dam);
    const named = { code: stock.called(dam), kind: 'queen', id: dam };
    if (state.state === 'unknown')
      return [warn(`dams.${i}`, 'dam-not-seen', { ...named, seen: state.lastSeen ?? NOT_KNOWN })];
    if (state.state === 'alive') return [];
    const ended = endOf(state);
    if (ended !== null && ended >= needed) return [];
    const works = instead(plan, dam, 'queen', stock);
    return [doubt(`dams.${i}`, 'dam-gone', { ...named, on: ended ?? NOT_KNOWN, instead: works })];
  });
}

/** Whether any tube still holds semen of this drone mother. */
async function hasSemen(facts: Facts, mother: RecordId): Promise<boolean> {
  const { story } = await gatherLedger(facts);
  const key = sourceKey({ kind: 'mother', queen: mother });
  return [...story.tubes.values()].some((tube) =>
    tube.layers.some((layer) => layer.mothers.some(({ of, semen }) => sourceKey(of) === key && semen > 0)),
  );
}

async function droneMotherProblems(facts: Facts, plan: Plan, stock: Stock): Promise<Problem[]> {
  const profile = profileOf(plan.cross, stock.profiles);
  const problems: Problem[] = [];
  for (const [i, { queen }] of plan.sources.entries()) {
    const state = queen == null ? null : stateOf(stock, queen);
    if (queen == null || state === null || state.state !== 'gone') continue;
    const ended = endOf(state);
    const named = { code: stock.called(queen), kind: 'queen', id: queen };
    // Eggs laid on her last day are drones of the greatest usable age this much later.
    const last =
      ended === null ? null : addDays(ended, profile.timings.droneEggToEmergence.value + profile.drones.hard.to);
    const day = plan.cross.inseminate_on ?? stock.today;
    if (last !== null && laterOf(day, stock.today) <= last)
      problems.push(warn(`drone_sources.${i}`, 'drone-mother-gone-drones-left', { ...named, last }));
    else if (await hasSemen(facts, queen))
      problems.push(warn(`drone_sources.${i}`, 'drone-mother-gone-semen-left', named));
    else {
      const works = instead(plan, queen, 'drone', stock);
      problems.push(
        doubt(`drone_sources.${i}`, 'drone-mother-gone', { ...named, last: last ?? NOT_KNOWN, instead: works }),
      );
    }
  }
  return problems;
}

/** A queen on both sides: her daughters with her own drones. Possible, and nearly always a slip. */
function bothSides(plan: Plan, stock: Stock): Problem[] {
  return plan.sources.flatMap(({ queen }, i) =>
    queen != null && plan.dams.includes(queen)
      ? [warn(`drone_sources.${i}`, 'same-queen-both-sides', { code: stock.called(queen) })]
      : [],
  );
}

/**
 * Whether the queens of a plan are there: a dead dam cannot be grafted from, a dead drone mother gives drones only as long as her
 * last ones live, or semen that was kept. Each refusal names living ones that would work.
 */
export async function sideProblems(facts: Facts, plan: Plan, today: Day): Promise<Problem[]> {
  const stock: Stock = {
    living: await gatherLiving(facts),
    called: await gatherNames(facts),
    profiles: await gatherProfiles(facts),
    today,
  };
  return [...damProblems(plan, stock), ...(await droneMotherProblems(facts, plan, stock)), ...bothSides(plan, stock)];
}
