import type { CrossWish, SeasonLimits, SeasonWish } from './season-wish.ts';

/** What can stand in the way of a season, each of it one thing a breeder could change. */
export type LimitName =
  | 'standing'
  | 'cells'
  | 'incubatorPlaces'
  | 'nucs'
  | 'combsPerMother'
  | 'queensPerDay'
  | 'blockedDays'
  | 'oneYardADay'
  | 'dates'
  | 'today';

const open: Readonly<Partial<Record<keyof SeasonLimits, null | readonly never[] | false>>> = {
  cells: null,
  incubatorPlaces: null,
  nucs: null,
  combsPerMother: null,
  queensPerDay: null,
  blockedDays: [],
  oneYardADay: false,
};

const anyDay = ({ earliest: _, latest: __, ...cross }: CrossWish): CrossWish => cross;

/** The same wish without the limits named. */
export function without(wish: SeasonWish, names: readonly LimitName[]): SeasonWish {
  const limits = { ...wish.limits };
  for (const name of names) if (name in open) Object.assign(limits, { [name]: open[name as keyof SeasonLimits] });
  const { today, standing, ...rest } = wish;
  return {
    ...rest,
    ...(standing === undefined || names.includes('standing') ? {} : { standing }),
    ...(today === undefined || names.includes('today') ? {} : { today }),
    limits,
    crosses: names.includes('dates') ? wish.crosses.map(anyDay) : wish.crosses,
  };
}

/** Limits that say something in this wish. */
export function limitsIn({ limits, crosses, today, standing }: SeasonWish): LimitName[] {
  const numbers = ['cells', 'incubatorPlaces', 'nucs', 'combsPerMother', 'queensPerDay'] as const;
  const stands = standing !== undefined && Object.values(standing).some((things) => things.length > 0);
  return [
    ...(stands ? (['standing'] as const) : []),
    ...numbers.filter((name) => limits[name] !== null),
    ...(limits.blockedDays.length > 0 ? (['blockedDays'] as const) : []),
    ...(limits.oneYardADay ? (['oneYardADay'] as const) : []),
    ...(crosses.some(({ earliest, latest }) => earliest !== undefined || latest !== undefined)
      ? (['dates'] as const)
      : []),
    ...(today !== undefined ? (['today'] as const) : []),
  ];
}

/**
 * The fewest limits that together make a season impossible: each of them taken away alone would make it possible again (a deletion filter,
 * Chinneck 1997). `impossible` says whether a wish is proven impossible. `null` when the wish itself is not; empty when it is impossible without any limit.
 * Asks once for each limit.
 */
export async function clashingLimits(
  wish: SeasonWish,
  impossible: (wish: SeasonWish) => Promise<boolean>,
): Promise<LimitName[] | null> {
  if (!(await impossible(wish))) return null;
  const all = limitsIn(wish);
  let dropped: LimitName[] = [];
  for (const name of all) {
    const fewer = [...dropped, name];
    if (await impossible(without(wish, fewer))) dropped = fewer;
  }
  return all.filter((name) => !dropped.includes(name));
}
