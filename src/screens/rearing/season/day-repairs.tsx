import { repairDay } from '#actions/rearing/season/repair-day.ts';
import { dayRepairs, type OfferedRepair } from '#questions/rearing/season/day-repairs.ts';
import type { Day } from '#units/calendar-day.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { Asked } from '../../parts/asked.tsx';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { repairWords, timesOfTwenty } from './season-words.ts';

type Input = Parameters<typeof repairDay.run>[0]['repair'];

/** What of an offered repair the act is told. */
function inputOf(repair: OfferedRepair): Input {
  if (repair.kind === 'graft-more')
    return { kind: repair.kind, dam: repair.dam, larvae: repair.larvae, day: repair.day } as Input;
  if (repair.kind === 'other-drones')
    return { kind: repair.kind, instead: repair.instead, mother: repair.mother } as Input;
  if (repair.kind === 'move-day') return { kind: repair.kind, to: repair.to };
  return { kind: repair.kind, dam: repair.dam, queens: repair.queens } as Input;
}

/** Ways to mend a day, each a press; the first is the cheapest that makes it sure. */
export function DayRepairs({ on }: { on: Day }) {
  const query = useAsk(dayRepairs, { today: today(), on });
  const { run, problems, busy } = useDo();
  const mend = async (repair: OfferedRepair, words: string) => {
    const did = await run(repairDay, { on, repair: inputOf(repair) });
    if (!('problems' in did)) tell(say('repair.done', { what: words }));
  };
  return (
    <Asked query={query}>
      {({ repairs, names, asPlanned }) =>
        repairs.length === 0 ? (
          <p className="soft">{say('repair.none')}</p>
        ) : (
          <div className="stack tight repairs">
            <h4>{say(repairs.some(({ mends }) => mends) ? 'repair.title' : 'repair.helps')}</h4>
            {asPlanned ? <p className="note">{say('repair.as-planned')}</p> : null}
            <Problems problems={problems} title={say('repair.refused')} />
            <ul className="plain stack tight">
              {repairs.map((repair, i) => {
                const words = repairWords(repair, names);
                return (
                  <li key={words} className="repair">
                    <button
                      type="button"
                      className={i === 0 && repair.mends ? 'button main' : 'button'}
                      aria-disabled={busy}
                      onClick={() => void (busy ? undefined : mend(repair, words))}
                    >
                      {words}
                    </button>
                    <span className="note">
                      {say('repair.then', { times: timesOfTwenty(repair.chance) })}{' '}
                      {say('repair.cost', { cost: Number(repair.cost.toFixed(2)) })}
                    </span>
                  </li>
                );
              })}
            </ul>
          </div>
        )
      }
    </Asked>
  );
}
