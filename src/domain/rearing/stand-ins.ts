/** A queen who could stand in: what is known that matters. Relatedness is the one she would have with the other side of the cross. */
export type StandInCandidate = {
  queen: string;
  living: boolean;
  /** Additive relationship with the other side, 0 and above. */
  relatedness: number;
  /** Worth in the breeder's own goals, higher is better; null is not known. */
  worth: number | null;
  /** Has a part in the season already. */
  used: boolean;
};

/** The stand-ins of one place in a cross. `short` is how many are lacking to the number wished. */
export type StandIns = { standIns: StandInCandidate[]; short: number };

/**
 * Stand-ins for one queen needed, three unless told: living queens without another part first, those within the limit of relatedness before those beyond
 * it, then the most worth, the least related. A queen who is dead, or the one she stands in for, is none.
 */
export function standInsFor(asked: {
  queen: string;
  candidates: readonly StandInCandidate[];
  limit: number;
  wanted?: number;
}): StandIns {
  const wanted = asked.wanted ?? 3;
  const within = (one: StandInCandidate) => Number(one.relatedness <= asked.limit);
  const worth = (one: StandInCandidate) => one.worth ?? Number.NEGATIVE_INFINITY;
  const standIns = asked.candidates
    .filter(({ queen, living }) => living && queen !== asked.queen)
    .sort(
      (a, b) =>
        Number(a.used) - Number(b.used) ||
        within(b) - within(a) ||
        compare(worth(b), worth(a)) ||
        a.relatedness - b.relatedness ||
        (a.queen < b.queen ? -1 : 1),
    )
    .slice(0, wanted);
  return { standIns, short: wanted - standIns.length };
}

const compare = (a: number, b: number) => (a === b ? 0 : a - b);
