/**
 * The season planner: time and proven gap on random seasons of growing size, and what branch and bound alone reaches in the same time.
 * Run: node --import tsx bench/season.ts
 */
import { proposeSeason, solveSeason } from '#compute/season-solver.ts';
import { season } from '#domain/rearing/season/season.fixture.ts';
import type { SeasonWish } from '#domain/rearing/season/season-wish.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { addDays, day } from '#units/calendar-day.ts';

/** Crosses with windows of their own, shared dams and drone mothers, one day in seven blocked, every limit biting. */
function randomSeason(seed: number, crosses: number, days: number): SeasonWish {
  const dice = randomStream(seed);
  const from = day('2027-05-20');
  return season({
    crosses: Array.from({ length: crosses }, (_, i) => {
      const earliest = dice.below(Math.floor(days / 2));
      return {
        cross: `cross ${i + 1}`,
        dam: `A${dice.below(Math.ceil(crosses * 0.7))}`,
        drones: [{ mother: `M${dice.below(Math.ceil(crosses * 0.4))}`, share: 1 }],
        queens: 4 + dice.below(16),
        dose: 8,
        earliest: addDays(from, earliest),
        latest: addDays(from, Math.min(days - 1, earliest + 10 + dice.below(30))),
      };
    }),
    from,
    to: addDays(from, days - 1),
    limits: {
      cells: 90,
      incubatorPlaces: 120,
      nucs: 5 * crosses,
      combsPerMother: 3,
      queensPerDay: 30,
      blockedDays: Array.from({ length: days + 160 }, (_, i) => addDays(from, i - 80)).filter(
        () => dice.uniform() < 0.15,
      ),
    },
  });
}

const median = (numbers: number[]) => numbers.sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? 0;

await solveSeason({ wish: randomSeason(99, 3, 15), seed: 1 });
console.log('crosses  days  ms (median, most)  gap (median, most)  queens of wanted');
for (const [crosses, days] of [
  [3, 20],
  [6, 30],
  [12, 40],
  [20, 50],
  [30, 60],
] as const) {
  const runs: { ms: number; gap: number; queens: number; wanted: number }[] = [];
  for (let seed = 1; seed <= 7; seed++) {
    const wish = randomSeason(seed, crosses, days);
    const began = performance.now();
    const { gap, queens } = await solveSeason({ wish, seed: 1 });
    const wanted = wish.crosses.reduce((sum, one) => sum + one.queens, 0);
    runs.push({ ms: performance.now() - began, gap, queens: queens.reduce((a, b) => a + b, 0), wanted });
  }
  const ms = runs.map((run) => run.ms);
  const gaps = runs.map(({ gap }) => 100 * gap);
  const share = runs.reduce((sum, { queens, wanted }) => sum + queens / wanted, 0) / runs.length;
  console.log(
    [
      String(crosses).padStart(7),
      String(days).padStart(5),
      `${median(ms).toFixed(0)}, ${Math.max(...ms).toFixed(0)}`.padStart(18),
      `${median(gaps).toFixed(2)} %, ${Math.max(...gaps).toFixed(2)} %`.padStart(19),
      `${(100 * share).toFixed(0)} %`.padStart(17),
    ].join(' '),
  );
}
const whole: number[] = [];
for (let seed = 1; seed <= 7; seed++) {
  const wish = randomSeason(seed, 30, 60);
  const began = performance.now();
  await proposeSeason({ wish, seed: 1 });
  whole.push(performance.now() - began);
}
console.log(
  `30 crosses × 60 days with the chances of every day, as the page shows it: ${median(whole).toFixed(0)} ms, at most ${Math.max(...whole).toFixed(0)} ms`,
);
console.log('must: 30 crosses × 60 days under 2000 ms, with its gap');
