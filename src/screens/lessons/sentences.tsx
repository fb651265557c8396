import { FEW_QUEENS } from '#domain/lessons/funnel.ts';
import type { Comparison, Factor, LessonsAnswer } from '#questions/yard/lessons.ts';
import { say } from '#words/say.ts';
import { groupName, sentence } from './lessons-words.ts';

/** "Tip 3: 7 of 9. All others: 41 of 52. This could easily be luck." Fewer than five queens are counted, not compared. */
function Sentence({ one, by }: { one: Comparison; by: Factor }) {
  const { group, laying, known, othersLaying, othersKnown, luck } = one;
  const what = sentence(groupName(by, group));
  if (known < FEW_QUEENS)
    return (
      <li className="few">
        {say('lessons.point', { what, laying, of: known })} ({say('lessons.few')})
      </li>
    );
  const words = say(`lessons.luck.${luck}`);
  return <li>{say('lessons.sentence', { what, laying, known, othersLaying, othersKnown, luck: words })}</li>;
}

/** One sentence for each group against all others; nothing is compared when there is only one. */
export function Sentences({ told, by }: { told: LessonsAnswer; by: Factor }) {
  const known = told.comparisons.filter((one) => one.known > 0);
  if (known.length < 2) return <p>{say('lessons.one-group')}</p>;
  return (
    <>
      <ul className="sentences">
        {known.map((one) => (
          <Sentence key={one.group ?? ''} one={one} by={by} />
        ))}
      </ul>
      <p className="note">{say('lessons.compared', { n: known.length })}</p>
    </>
  );
}

/** Factors that changed together cannot be told apart; it is said before anybody draws a lesson. */
export function Together({ told, by }: { told: LessonsAnswer; by: Factor }) {
  return told.together.map(({ group, factor, value, inside, insideOf, outside, outsideOf }) => {
    const named = factor as Factor;
    const words = say('lessons.together', {
      what: groupName(by, group),
      value: groupName(named, value),
      inside,
      insideOf,
      outside,
      outsideOf,
    });
    return (
      <p className="caution note-size" key={`${group} ${factor}`}>
        {sentence(words)}
      </p>
    );
  });
}
