import { takeExcluderOff } from '#actions/yard/take-excluder-off.ts';
import type { NursingAnswer } from '#questions/yard/nursing.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { Code } from '../../parts/identity-band.tsx';
import { Problems } from '../../parts/problems.tsx';
import { StateShape } from '../../parts/state-sign.tsx';
import { tell } from '../../parts/told.tsx';
import { QueenLink } from '../../stock/queen-link.tsx';

/** Excluders that are still on: due to come off once eggs are seen. */
export function Excluders({ excluders }: Pick<NursingAnswer, 'excluders'>) {
  const { run, problems, busy } = useDo();
  if (excluders.length === 0) return null;
  const off = async (queens: readonly string[]) => {
    const did = await run(takeExcluderOff, { queens: queens as RecordId[], day: today() }, { happened: true });
    if (!('problems' in did)) tell(say('nursing.excluder-kept', { n: queens.length }));
  };
  const ready = excluders.filter(({ eggs }) => eggs !== null);
  return (
    <section className="stack" aria-labelledby="excluders">
      <div className="spread">
        <h2 id="excluders">{say('nursing.excluders')}</h2>
        {ready.length === 0 ? null : (
          <button
            type="button"
            className="button main"
            aria-disabled={busy}
            onClick={() => void off(ready.map(({ queen }) => queen.id))}
          >
            {say('nursing.excluders-off')}
          </button>
        )}
      </div>
      <p>{say('nursing.excluders-lead')}</p>
      <Problems problems={problems} title={say('form.not-kept')} />
      <ul className="waiting-lines">
        {excluders.map(({ queen, home, eggs }) => (
          <li key={queen.id}>
            <StateShape sign={eggs === null ? 'planned' : 'due'} />
            <strong>
              <Code>{home.code}</Code>
            </strong>
            <QueenLink queen={queen} />
            <span className="grows">
              {eggs === null ? say('nursing.no-eggs-yet') : say('nursing.eggs-seen', { day: dayWords(eggs, today()) })}
            </span>
            <button type="button" className="button" aria-disabled={busy} onClick={() => void off([queen.id])}>
              {say('nursing.excluder-off')} <span className="visually-hidden">{home.code}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
