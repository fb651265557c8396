import type { Effect, GoesWith, RandomSpread } from '#domain/lessons/goes-with.ts';
import { goesWith } from '#questions/yard/goes-with.ts';
import type { Factor } from '#questions/yard/lessons.ts';
import type { Day } from '#units/calendar-day.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { factorName, groupName, sentence } from './lessons-words.ts';

const of100 = (share: number) => Math.round(share * 100);
const times = (odds: number) => (odds >= 10 ? odds.toFixed(0) : odds.toFixed(2));

function effectName({ factor, group, against }: Effect): string {
  const by = factor as Factor;
  if (group === null) return sentence(say('lessons.goes-quantity', { what: factorName(by) }));
  return sentence(say('lessons.goes-group', { what: groupName(by, group), against: groupName(by, against) }));
}

/** What a row rests on: the range written down, or the queens of the group. */
const restsOn = ({ group, queens, least, most }: Effect) =>
  group === null
    ? say('lessons.goes-quantity-range', { least: least ?? 0, most: most ?? 0 })
    : say('lessons.goes-group-queens', { n: queens });

const columnsFor = (usual: number): readonly Column<Effect>[] => [
  {
    key: 'what',
    label: say('lessons.goes-what'),
    lead: true,
    by: effectName,
    cell: effectName,
  },
  {
    key: 'share',
    label: say('lessons.goes-share', { usual: of100(usual) }),
    number: true,
    cell: ({ share }) => <strong>{of100(share.value)}</strong>,
  },
  {
    key: 'range',
    label: say('lessons.goes-range'),
    number: true,
    cell: ({ share }) => say('lessons.goes-to', { low: of100(share.low), high: of100(share.high) }),
  },
  {
    key: 'odds',
    label: say('lessons.goes-odds'),
    number: true,
    cell: ({ odds }) =>
      say('lessons.goes-times', { odds: times(odds.value), low: times(odds.low), high: times(odds.high) }),
  },
  { key: 'rests', label: say('lessons.goes-rests'), cell: restsOn },
  { key: 'luck', label: say('lessons.goes-luck'), cell: ({ luck }) => say(`lessons.luck.${luck}`) },
];

/** Operators or tubes: how far they differ, and each drawn to all; never ranked, in the order of their queens. */
function Spread({ one: { factor, spread, poor, good, levels, apart } }: { one: RandomSpread }) {
  const what = sayAny(`lessons.goes-random.${factor}`);
  if (spread === 0) return <p>{say('lessons.goes-no-spread', { what })}</p>;
  return (
    <div className="stack tight">
      <p>
        {say('lessons.goes-spread', { what, poor: of100(poor), good: of100(good) })}{' '}
        {apart === 0 ? say('lessons.goes-overlap') : say('lessons.goes-apart', { n: apart })}
      </p>
      <details className="behind">
        <summary>{say('lessons.goes-drawn-list', { what })}</summary>
        <ul>
          {levels.map(({ group, laying, known, share }) => (
            <li key={group}>
              {say('lessons.goes-drawn', {
                what: group,
                laying,
                known,
                share: of100(share.value),
                low: of100(share.low),
                high: of100(share.high),
              })}
            </li>
          ))}
        </ul>
      </details>
    </div>
  );
}

/** Who and what is not in it, and why. */
function NotCounted({ told: { leftOut, notUsed } }: { told: GoesWith }) {
  const { open, notWritten } = leftOut;
  if (open === 0 && notWritten === 0 && notUsed.length === 0) return null;
  return (
    <details className="behind">
      <summary>{say('lessons.goes-counted')}</summary>
      <ul>
        {open === 0 ? null : <li>{say('lessons.goes-open', { n: open })}</li>}
        {notWritten === 0 ? null : <li>{say('lessons.goes-unwritten', { n: notWritten })}</li>}
        {notUsed.map(({ factor, why }) => (
          <li key={factor}>
            {sentence(
              say('lessons.goes-not-used', {
                what: factorName(factor as Factor),
                why: sayAny(`lessons.goes-why.${why}`),
              }),
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}

function Told({ told }: { told: GoesWith }) {
  const { used, laying, usual, effects, random, refused } = told;
  if (refused !== null)
    return (
      <>
        <p>{say(`lessons.goes-none.${refused}`)}</p>
        <NotCounted told={told} />
      </>
    );
  return (
    <>
      <p>{say('lessons.goes-lead', { used, laying, usual: of100(usual) })}</p>
      {effects.length === 0 ? null : (
        <>
          <BookTable
            label={say('lessons.goes')}
            rows={effects}
            columns={columnsFor(usual)}
            rowKey={({ factor, group }) => `${factor} ${group}`}
          />
          <p className="note">{say('lessons.goes-odds-what')}</p>
        </>
      )}
      {random.map((one) => (
        <Spread key={one.factor} one={one} />
      ))}
      <p className="caution note-size">{say('lessons.goes-not-cause')}</p>
      <NotCounted told={told} />
    </>
  );
}

/** What goes with laying, everything written down weighed together; worked out beside the page. */
export function GoesWithLaying({ span }: { span: { from?: Day; to?: Day } }) {
  const query = useAsk(goesWith, { today: today(), ...span });
  return (
    <section className="stack tight" aria-labelledby="goes-with">
      <h2 id="goes-with">{say('lessons.goes')}</h2>
      <Asked query={query}>{(told) => <Told told={told} />}</Asked>
    </section>
  );
}
