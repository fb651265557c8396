import { type ReactNode, useEffect, useState } from 'react';
import type { CrossOutlook } from '#domain/rearing/chances/raising-chances.ts';
import type { Countback } from '#questions/rearing/countback.ts';
import { type MovedCross, movedCross, type Staying } from '#questions/rearing/moved-cross.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { spanWords } from '../today/task-words.ts';
import type { fieldsOf } from './moves.ts';
import { timesOfTwenty } from './season/season-words.ts';
import { PlanWarnings } from './too-near.tsx';

/** Tasks named one by one; of more, how many. */
const MOST_NAMED = 3;
/** A move is asked about once it has rested so long, in ms: a drag passes many days. */
const RESTS = 150;

/** A value once it has not changed for a moment. */
function useRested<T>(value: T): T {
  const [rested, setRested] = useState(value);
  useEffect(() => {
    const later = setTimeout(() => setRested(value), RESTS);
    return () => clearTimeout(later);
  }, [value]);
  return rested;
}

/** The lowest and highest of the middle sixteen of twenty, in whole numbers. */
const mostly = (dots: readonly number[], each = 1): string => {
  const [low, high] = [Math.floor((dots[2] ?? 0) / each), Math.floor((dots[17] ?? 0) / each)];
  return low === high ? figure(low, 0) : say('moved.from-to', { low: figure(low, 0), high: figure(high, 0) });
};
const seasons = (chance: number): string => say('moved.seasons', { times: timesOfTwenty(chance) });

type RowProps = { what: string; before: ReactNode; after: ReactNode; differs: boolean };

function Row({ what, before, after, differs }: RowProps) {
  return (
    <tr>
      <th scope="row">{what}</th>
      <td>{before}</td>
      <td>{differs ? <strong>{after}</strong> : after}</td>
    </tr>
  );
}

/** An amount and how many seasons of twenty it suffices in. */
const amountWords = (dots: readonly number[], chance: number, each = 1): string =>
  say('moved.amount', { amount: mostly(dots, each), seasons: seasons(chance) });

const weakestWords = ({ weakest, mothers }: CrossOutlook): string => {
  if (weakest === null) return say('moved.nothing-gives');
  if (weakest === 'queens') return say('moved.queens-give');
  return say('moved.drones-give', { mother: mothers[weakest]?.name ?? '' });
};

function Outlooks({ moved, dose }: { moved: MovedCross; dose: number }) {
  const { before, after, tasks } = moved;
  const isReached = !moved.warnings.some(({ code }) => code === 'day-too-near' || code === 'day-past');
  const then = (words: string) => (isReached ? words : say('moved.not-in-time'));
  const row = (what: string, was: string, is: string) => (
    <Row key={what} what={what} before={was} after={then(is)} differs={isReached && was !== is} />
  );
  const late = (n: number) => say('moved.tasks', { n });
  return (
    <table className="moved">
      <caption>{say('moved.title')}</caption>
      <thead>
        <tr>
          <td />
          <th scope="col">{say('moved.before')}</th>
          <th scope="col">{say('moved.after')}</th>
        </tr>
      </thead>
      <tbody>
        {row(
          say('moved.queens', { wanted: before.queens.wanted }),
          amountWords(before.queens.dots, before.queens.chance),
          amountWords(after.queens.dots, after.queens.chance),
        )}
        {before.mothers.map((mother, i) => {
          const then_ = after.mothers[i] ?? mother;
          return row(
            say('moved.doses', { mother: mother.name, wanted: figure(mother.wanted / dose, 0) }),
            amountWords(mother.dots, mother.chance, dose),
            amountWords(then_.dots, then_.chance, dose),
          );
        })}
        {before.chance === null || after.chance === null
          ? null
          : row(say('moved.both'), seasons(before.chance), seasons(after.chance))}
        {row(say('moved.gives'), weakestWords(before), weakestWords(after))}
        <Row
          what={say('moved.late')}
          before={late(tasks.lateBefore)}
          after={late(tasks.late.length)}
          differs={tasks.late.length !== tasks.lateBefore}
        />
      </tbody>
    </table>
  );
}

const stayWords = ({ why, name, crosses, side }: Staying): string =>
  why === 'raised'
    ? say('moved.stays-raised', { name })
    : say(`moved.stays-${side}`, { name, crosses: crosses.join(', ') });

/** What moves, what is late then, and what stays where it is. */
function InWords({ moved: { tasks, along, staying, warnings, instead } }: { moved: MovedCross }) {
  const more = tasks.late.length - MOST_NAMED;
  return (
    <>
      <p>
        {say('moved.along', { tasks: tasks.moved })}
        {along.bars + along.combs === 0 ? null : ` ${say('moved.planned-along', along)}`}
      </p>
      {tasks.late.length === 0 ? null : (
        <p className="problem">
          {say('moved.late-then')}{' '}
          {tasks.late
            .slice(0, MOST_NAMED)
            .map(({ key, from, to }) => `${taskWords({ key, words: null, queens: 0 })} (${spanWords(from, to)})`)
            .join(' ')}
          {more > 0 ? ` ${say('moved.and-more', { n: more })}` : null}
        </p>
      )}
      {staying.map((one) => (
        <p key={`${one.why} ${one.side} ${one.name}`} className="note">
          {stayWords(one)}
        </p>
      ))}
      <PlanWarnings warnings={warnings} instead={instead} />
    </>
  );
}

type OutlookProps = { cross: Countback['cross']; fields: ReturnType<typeof fieldsOf> };

/** What a move that is not kept yet does: chances beside those of now, what gives first, tasks that move or are late already, and what stays. */
export function MoveOutlook({ cross, fields }: OutlookProps) {
  const rested = useRested(fields);
  const query = useAsk(movedCross, { cross: cross.id, today: today(), set: rested });
  const isStale = rested !== fields || query.isPlaceholderData;
  return (
    <div className={isStale ? 'stack tight stale' : 'stack tight'} aria-busy={isStale}>
      <Asked query={query}>
        {(moved) =>
          moved === null ? null : (
            <>
              <Outlooks moved={moved} dose={cross.dose_ul * (cross.doses ?? 1) || 1} />
              <InWords moved={moved} />
            </>
          )
        }
      </Asked>
      {isStale ? <p className="note">{say('moved.working')}</p> : null}
    </div>
  );
}
