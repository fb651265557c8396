/**
 * Small random stocks that hold every kind of mating, for tests: one drone, drones of one or several mothers, groups of sisters,
 * batches shared whole or by draws, batches of batches, a batch of strangers shared by generations, a mating place whose drones are met at random, open and partly
 * open matings, one-or-the-other, a queen's own drones.
 * Numbers of drones are whole, so that single drones can be dropped through them.
 */
import type { PedigreeFacts, PoolFact, QueenFact, SourceFact } from '#domain/pedigree/facts.ts';
import { type RandomStream, randomStream } from '#numeric/random/random-stream.ts';

type Making = { queens: QueenFact[]; pools: PoolFact[]; batches: string[]; random: RandomStream };

const pick = <T>(random: RandomStream, from: readonly T[]): T => from[random.below(from.length)] as T;

/** Drones of one queen or group; for a group a multiple of its sisters, or fewer drones than sisters. */
function dronesOf(making: Making, share: number, most = 6): SourceFact {
  const queen = pick(making.random, making.queens);
  const sisters = queen.sisters ?? 1;
  const few = sisters > 1 && making.random.below(2) === 0;
  const drones = few
    ? 1 + making.random.below(sisters)
    : sisters * (1 + making.random.below(Math.max(1, Math.floor(most / sisters))));
  return { queen: queen.id, share, drones };
}

function sources(making: Making, id: string): Omit<PoolFact, 'id'> {
  const { random } = making;
  switch (random.below(9)) {
    case 0:
      return { sources: [{ ...dronesOf(making, 1), drones: 1 } as SourceFact] };
    case 1:
      return { sources: [dronesOf(making, 1)] };
    case 2:
      return { sources: [dronesOf(making, 0.5), dronesOf(making, 0.3), dronesOf(making, 0.2)] };
    case 3:
      return { sources: [dronesOf(making, 0.7), { open: true, share: 0.3, drones: 1 + random.below(3) }] };
    case 4:
      return { sources: [{ open: true, share: 1, drones: 1 + random.below(8) }] };
    case 5:
      return { oneOf: true, sources: [dronesOf(making, 0.6), dronesOf(making, 0.4)] };
    case 6:
      return { sources: [{ queen: id, share: 1, drones: 1 + random.below(4) }] };
    case 7:
      return { sources: [{ pool: pick(random, making.batches), share: 1, draws: 1 + random.below(5) }] };
    default:
      return {
        sources: [{ pool: pick(random, making.batches), share: 0.8, draws: null }, { ...dronesOf(making, 0.2, 2) }],
      };
  }
}

/** A pool for the queen `id`: a batch shared with others, or one of her own. */
function poolFor(making: Making, id: string): string | null {
  if (making.random.below(4) === 0) return pick(making.random, making.batches);
  if (making.random.below(10) === 0) return null;
  const pool = { id: `s-${id}`, ...sources(making, id) };
  making.pools.push(pool);
  return pool.id;
}

function addBatch(making: Making, id: string): void {
  const { random, batches } = making;
  const whole: SourceFact[] =
    batches.length > 1 && random.below(3) === 0
      ? [
          { pool: pick(random, batches), share: 0.6, draws: null },
          { pool: pick(random, batches), share: 0.4, draws: null },
        ]
      : [dronesOf(making, 0.5), dronesOf(making, 0.5, 4)];
  making.pools.push({ id, sources: whole });
  batches.push(id);
}

/** One batch of strangers on a queen, on her daughter, and on every second queen about whose mating nothing is written; granddaughters of it. */
function shareStrangers({ queens, pools }: Making): void {
  const pool = 'strangers';
  pools.push({ id: pool, sources: [{ open: true, share: 1, drones: 3 }] });
  for (const queen of queens.filter((one) => one.pool === null).filter((_, k) => k % 2 === 1)) queen.pool = pool;
  queens.push({ id: 'x0', pool, sisters: 1 }, { id: 'x1', dam: 'x0', pool, sisters: 1 });
  for (const id of ['x2', 'x3']) queens.push({ id, dam: 'x1', sisters: 1 });
}

/** A mating place of a founder, a queen and four sisters, where two queens and a daughter of one of them met drones at random; daughters of all three. */
function fliesAtPlace({ queens, pools }: Making): void {
  queens.push({ id: 'y-mothers', dam: 'f0', sisters: 4 });
  const fly = (queen: string, share: number): SourceFact => ({ queen, share, drones: Number.POSITIVE_INFINITY });
  pools.push({ id: 'place', sources: [fly('f1', 1 / 6), fly('q2-0', 1 / 6), fly('y-mothers', 4 / 6)] });
  const mated = (id: string, draws: number, dam?: string) => {
    pools.push({ id: `s-${id}`, sources: [{ pool: 'place', share: 1, draws }] });
    queens.push({ id, pool: `s-${id}`, sisters: 1, ...(dam === undefined ? {} : { dam }) });
  };
  mated('y0', 3);
  mated('y1', 2);
  mated('y2', 4, 'y0');
  for (const dam of ['y0', 'y1', 'y2', 'y2']) queens.push({ id: `z${queens.length}`, dam, sisters: 1 });
}

/** A stock of `founders` founders and `rounds` rounds of `perRound` daughters (some of them groups of 2-4 sisters). */
export function randomStock(seed: number, { founders = 4, rounds = 4, perRound = 5 } = {}): PedigreeFacts {
  const making: Making = { queens: [], pools: [], batches: [], random: randomStream(seed) };
  for (let i = 0; i < founders; i++) {
    const sisters = i === founders - 1 && making.random.below(2) === 0 ? 3 : 1;
    making.queens.push({ id: `f${i}`, sisters });
  }
  addBatch(making, 'b0');
  for (const queen of making.queens.filter((q) => q.sisters === 1)) queen.pool = poolFor(making, queen.id);
  for (let round = 1; round <= rounds; round++) {
    const dams = making.queens.filter((queen) => (queen.sisters ?? 1) === 1).slice(-8);
    const born: QueenFact[] = [];
    for (let i = 0; i < perRound; i++) {
      const sisters = making.random.below(6) === 0 ? 2 + making.random.below(3) : 1;
      born.push({ id: `q${round}-${i}`, dam: pick(making.random, dams).id, sisters });
    }
    addBatch(making, `b${round}`);
    making.queens.push(...born);
    for (const queen of born.filter((q) => q.sisters === 1)) queen.pool = poolFor(making, queen.id);
  }
  shareStrangers(making);
  fliesAtPlace(making);
  return { queens: making.queens, pools: making.pools };
}
