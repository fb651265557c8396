import type { Instead } from '#domain/rearing/reality/what-instead.ts';
import type { Problem } from '#units/problem.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { sayHere } from '../parts/problems.tsx';
import { listWords, timesOfTwenty } from './season/season-words.ts';

/** A day that is too near: since when, the earliest day, and whose drones there are. */
export function TooNear({ instead }: { instead: Instead }) {
  const { daysLate, earliest, earliestQueens, mothers } = instead;
  const day = dayWords(earliest, today());
  const drones = mothers.map(({ mother, chance }) => say('instead.mother', { mother, times: timesOfTwenty(chance) }));
  return (
    <div className="problem">
      <p>
        {daysLate > 0
          ? say('instead.eggs-late', { ago: daysLate, earliest: day })
          : say('instead.too-near', { earliest: day })}
      </p>
      <p>
        {drones.length === 0 ? say('instead.no-drones') : say('instead.drones-there', { mothers: listWords(drones) })}
      </p>
      {drones.length === 0 ? null : <p>{say('instead.queens-by', { day: dayWords(earliestQueens, today()) })}</p>}
    </div>
  );
}

/** What speaks against a plan; a day that is too near with what can be done about it. */
export function PlanWarnings({ warnings, instead }: { warnings: readonly Problem[]; instead: Instead | null }) {
  return (
    <>
      {warnings
        .filter(({ code }) => instead === null || code !== 'day-too-near')
        .map((warning) => (
          <p key={`${warning.path} ${warning.code}`} className="problem">
            {sayHere(warning)}
          </p>
        ))}
      {instead === null ? null : <TooNear instead={instead} />}
    </>
  );
}
