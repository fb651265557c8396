import type { Behind } from '#questions/yard/lessons.ts';
import { groupBy } from '#units/group-by.ts';
import { say } from '#words/say.ts';
import { BelowAxis, Plot, scale, ticks, useRoom } from './plot.tsx';

type Dot = Behind & { storageDays: number; laying: boolean };
const isDot = (one: Behind): one is Dot => one.storageDays !== null && one.laying !== null;

function titleOf(dots: readonly Dot[]): string {
  const days = [...new Set(dots.map(({ storageDays }) => storageDays))].sort((a, b) => a - b);
  const split = days[Math.floor((days.length - 1) / 2)] ?? 0;
  if (days.length < 2) return say('lessons.storage-one', { day: days[0] ?? 0 });
  const count = (some: readonly Dot[]) => [some.filter(({ laying }) => laying).length, some.length] as const;
  const [young, youngOf] = count(dots.filter(({ storageDays }) => storageDays <= split));
  const [old, oldOf] = count(dots.filter(({ storageDays }) => storageDays > split));
  if (split === 0) return say('lessons.storage-fresh', { young, youngOf, old, oldOf });
  return say('lessons.storage-title', { split, young, youngOf, old, oldOf });
}

/** Each queen a dot at the age of her semen: up = laying worker brood, down = not. Dots of one day stand one above the other. */
export function StoragePlot({ behind }: { behind: readonly Behind[] }) {
  const room = useRoom(230);
  const [up, down] = [room.top + 60, room.bottom - 50];
  const dots = behind.filter(isDot);
  if (dots.length === 0) return null;
  const most = Math.max(7, ...dots.map(({ storageDays }) => storageDays));
  const x = scale([-0.5, most + 0.5], [room.left, room.right]);
  const columns = [...groupBy(dots, ({ storageDays, laying }) => `${storageDays} ${laying}`).values()];
  const ages = [...groupBy(dots, ({ storageDays }) => storageDays)].sort(([a], [b]) => a - b);
  return (
    <Plot
      title={titleOf(dots)}
      summary={say('lessons.storage-summary')}
      room={room}
      table={{
        columns: [say('factor.storage_days'), say('lessons.known')],
        rows: ages.map(([days, some]) => [
          days,
          say('lessons.counted', { laying: some.filter(({ laying }) => laying).length, of: some.length }),
        ]),
      }}
    >
      <text x={room.left - 6} y={up} textAnchor="end">
        ▲
      </text>
      <text x={room.left - 6} y={down} textAnchor="end">
        ▽
      </text>
      <BelowAxis room={room} at={x} values={ticks(most)} title={say('factor.storage_days')} />
      {columns.flatMap((column) =>
        column.map((dot, n) => {
          const across = (n % 6) - Math.min(5, column.length - 1) / 2;
          const rows = Math.floor(n / 6) * 12;
          return (
            <a key={dot.id + String(dot.inseminated)} href={`/stock/queen/${dot.id}`} aria-label={dot.queen}>
              <circle
                className={dot.laying ? 'mark' : 'mark hollow'}
                cx={x(dot.storageDays) + across * 12}
                cy={dot.laying ? up - rows : down + rows}
                r="4.5"
              />
            </a>
          );
        }),
      )}
    </Plot>
  );
}
