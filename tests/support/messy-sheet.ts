import { randomStream } from '#numeric/random/random-stream.ts';

/**
 * A stock book as a breeder may keep it, invented from a fixed seed: a title above the header, code and disc in one column, days day
 * first, decimal commas, words for states, mixtures in per cent. Four rows hold a slip, the same on every run.
 */
export type MessySheet = {
  text: string;
  rows: number;
  /** Rows with a slip, as the sheet counts them. */
  slips: { codeTwice: number; unknownMother: number; olderThanMother: number; impossibleDay: number };
};

const HEADER = [
  'Queen/disc',
  'Mother',
  'Hatched',
  'Mated with',
  'Dose µl',
  'Inseminated',
  'Line',
  'Yard',
  'Hive',
  'State',
  'Remarks',
];
/** Row of the first queen: a title and an empty line stand above the header. */
const FIRST_ROW = 4;
const SHARES: readonly (readonly [number, number])[] = [
  [2021, 0.05],
  [2022, 0.1],
  [2023, 0.15],
  [2024, 0.2],
  [2025, 0.25],
  [2026, 0.25],
];

type Queen = { code: string; year: number; line: string };

const two = (n: number) => String(n).padStart(2, '0');
const dayFirst = (year: number, month: number, date: number) => `${two(date)}/${two(month)}/${year}`;

/** @param rows how many queens; 200 for the journey, 5,000 for timing */
export function messySheet(rows = 200): MessySheet {
  const stream = randomStream(2027);
  const pick = <T>(from: readonly T[]): T => from[Math.floor(stream.uniform() * from.length)] as T;
  const digits = String(Math.ceil(rows * 0.25)).length;
  const queens: Queen[] = [];
  const lines: string[][] = [];
  for (const [year, share] of SHARES)
    for (let n = 1; n <= Math.round(rows * share); n++) {
      const older = queens.filter((queen) => queen.year < year && queen.year >= year - 2);
      const line = pick(['Alder', 'Birch']);
      const mothers = older.filter((queen) => queen.line === line);
      const dam = mothers.length === 0 ? '' : pick(mothers).code;
      const code = `${two(year - 2000)}-${String(n).padStart(Math.max(3, digits), '0')}`;
      const [first, second] = older.length < 2 ? [null, null] : [pick(older).code, pick(older).code];
      const kind = stream.uniform();
      const drones =
        first === null || kind < 0.1
          ? 'open'
          : kind < 0.25 && first !== second
            ? `${first} 60 %, ${second} 40 %`
            : kind < 0.32 && first !== second
              ? `${first} or ${second}`
              : first;
      const instrument = drones !== 'open' && year >= 2023;
      const date = 1 + Math.floor(stream.uniform() * 28);
      const ended = year <= 2022 || (year <= 2024 && stream.uniform() < 0.5);
      lines.push([
        `${code}/${1 + ((n - 1) % 99)}`,
        dam,
        dayFirst(year, 6, date),
        drones,
        instrument ? (7 + Math.floor(stream.uniform() * 5) / 2).toFixed(1).replace('.', ',') : '',
        instrument ? dayFirst(year, 7, Math.max(1, date - 15)) : '',
        line,
        pick(['Mill yard', 'Upper field', 'School']),
        `Nuc ${queens.length + 1}`,
        ended ? pick(['superseded', 'lost', 'sold', 'dead']) : pick(['alive', '']),
        stream.uniform() < 0.2 ? pick(['calm on the comb', 'a little swarmy', 'good; strong in spring']) : '',
      ]);
      queens.push({ code, year, line });
    }
  const indexOf = (year: number, n: number) =>
    queens.findIndex(
      (queen, i) => queen.year === year && queens.slice(0, i + 1).filter((each) => each.year === year).length === n,
    );
  const cells = (year: number, n: number) => lines[indexOf(year, n)] ?? [];
  const twice = cells(2026, 11);
  twice[0] = cells(2026, 10)[0] ?? '';
  for (const row of [twice, cells(2026, 10)]) row[9] = 'alive';
  const unknown = cells(2025, 7);
  unknown[1] = `${queens[indexOf(2024, 5)]?.code}0`;
  const older = cells(2026, 20);
  older[1] = queens[indexOf(2025, 3)]?.code ?? '';
  older[2] = dayFirst(2024, 5, 3);
  older[5] = '';
  const impossible = cells(2025, 12);
  impossible[2] = '31/06/2025';
  impossible[5] = '';
  const quoted = (text: string) => (/[;"]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const text = [['Stock book of a small station'], [], HEADER, ...lines]
    .map((row) => row.map(quoted).join(';'))
    .join('\r\n');
  const row = (year: number, n: number) => FIRST_ROW + indexOf(year, n);
  return {
    text: `${text}\r\n`,
    rows: lines.length,
    slips: {
      codeTwice: row(2026, 11),
      unknownMother: row(2025, 7),
      olderThanMother: row(2026, 20),
      impossibleDay: row(2025, 12),
    },
  };
}
