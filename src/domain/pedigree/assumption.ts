/**
 * Things a computation took for granted because the records do not say. Every number that rests on one says so. Queens, pools and sources are named
 * as people call them; `drones` are effective drones, `share` and `probability` 0-1, `sum` what written shares added up to.
 */
export type Assumption =
  | { code: 'open-mated'; queen: string; drones: number }
  | { code: 'drones-not-said'; pool: string; drones: number }
  | { code: 'source-drones-not-said'; pool: string; source: string; drones: number }
  | { code: 'open-source'; pool: string; share: number }
  | { code: 'one-of'; pool: string; sources: readonly { source: string; probability: number }[] }
  | { code: 'sister-group'; queen: string; sisters: number }
  | { code: 'sister-group-without-dam'; queen: string }
  | { code: 'share-filled-in'; pool: string; source: string; share: number }
  | { code: 'shares-scaled'; pool: string; sum: number }
  | { code: 'drones-not-used'; queen: string; drones: number }
  | { code: 'met-at-random'; pool: string }
  | { code: 'line-stands-in'; pool: string; mothers: number }
  | { code: 'taken-for-granted'; about: string; text: string };

const number = (value: number) => String(Number(value.toPrecision(4)));

/**
 * One English sentence for an assumption, as printed by the command line; numbers with up to four figures.
 * @example sayAssumption({ code: 'shares-scaled', pool: 'batch B1', sum: 0.99 }) // 'batch B1: the shares add up to 0.99 and were scaled to 1'
 */
export function sayAssumption(a: Assumption): string {
  switch (a.code) {
    case 'open-mated':
      return `${a.queen}: nothing is written about her mating; taken as open mated by ${number(a.drones)} unrelated drones`;
    case 'drones-not-said':
      return `${a.pool}: no number of drones is written; taken as ${number(a.drones)} effective drones`;
    case 'source-drones-not-said':
      return `${a.pool}: no number of drones of ${a.source} is written; taken as ${number(a.drones)} effective drones`;
    case 'open-source':
      return `${a.pool}: ${number(a.share)} of it comes from drones taken as unrelated to everything`;
    case 'one-of':
      return `${a.pool}: one or the other, not a mixture: ${a.sources.map((s) => `${s.source} with probability ${number(s.probability)}`).join(', ')}`;
    case 'sister-group':
      return `${a.queen}: a group of ${a.sisters} unrecorded sister queens, each giving the same number of drones`;
    case 'sister-group-without-dam':
      return `${a.queen}: the mother of this group of sisters is not known; taken as one unrelated queen, open mated by 12 unrelated drones`;
    case 'share-filled-in':
      return `${a.pool}: no share of ${a.source} is written; taken as ${number(a.share)}`;
    case 'shares-scaled':
      return `${a.pool}: the shares add up to ${number(a.sum)} and were scaled to 1`;
    case 'drones-not-used':
      return `${a.queen}: ${number(a.drones)} drones are written but neither drone mothers nor a batch; the number was not used`;
    case 'met-at-random':
      return `${a.pool}: every drone mother that stood there taken as equally likely, each queen's drones as met at random`;
    case 'line-stands-in':
      return `${a.pool}: ${a.mothers} queens of the line, each giving the same number of drones`;
    case 'taken-for-granted':
      return `${a.about}: ${a.text}`;
  }
}

/** Sentences of one kind written out before the rest is only counted. */
const WRITTEN_OUT = 20;

/**
 * The first 20 assumptions of each kind, in their order, and how many more there are of a kind that has more.
 * @example inShort([{ code: 'met-at-random', pool: 'semen of A' }]) // { shown: [{ code: 'met-at-random' }], more: [] }
 */
export function inShort(assumptions: readonly Assumption[]): {
  shown: Assumption[];
  more: { code: Assumption['code']; n: number }[];
} {
  const counts = new Map<Assumption['code'], number>();
  const shown: Assumption[] = [];
  for (const assumption of assumptions) {
    const n = (counts.get(assumption.code) ?? 0) + 1;
    counts.set(assumption.code, n);
    if (n <= WRITTEN_OUT) shown.push(assumption);
  }
  const more = [...counts].flatMap(([code, n]) => (n > WRITTEN_OUT ? [{ code, n: n - WRITTEN_OUT }] : []));
  return { shown, more };
}

/**
 * {@link inShort} as sentences for a terminal: a stock of ten million rows takes as much for granted as one of twenty, in as many lines.
 * @example sayAssumptionsInShort([{ code: 'shares-scaled', pool: 'batch B1', sum: 0.99 }]) // ['batch B1: the shares add up to 0.99 and were scaled to 1']
 */
export function sayAssumptionsInShort(assumptions: readonly Assumption[]): string[] {
  const { shown, more } = inShort(assumptions);
  const counts = more.map(({ code, n }) => `${n} more of the kind "${code}"; --json lists every one`);
  return [...shown.map(sayAssumption), ...counts];
}
