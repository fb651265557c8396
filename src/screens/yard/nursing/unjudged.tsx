import { settleIntroduction } from '#actions/yard/introduce-queen.ts';
import type { NursingAnswer } from '#questions/yard/nursing.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { Code } from '../../parts/identity-band.tsx';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { QueenLink } from '../../stock/queen-link.tsx';

/** Queens let in about whom nobody has said whether the bees took them. */
export function Unjudged({ unjudged }: Pick<NursingAnswer, 'unjudged'>) {
  const { run, problems, busy } = useDo();
  if (unjudged.length === 0) return null;
  const settle = async (introduction: RecordId, accepted: boolean) => {
    const did = await run(settleIntroduction, { introduction, accepted, day: today() }, { happened: true });
    if (!('problems' in did)) tell(say('nursing.took-kept'));
  };
  return (
    <section className="stack" aria-labelledby="unjudged">
      <h2 id="unjudged">{say('nursing.unjudged')}</h2>
      <Problems problems={problems} title={say('form.not-kept')} />
      <ul className="waiting-lines">
        {unjudged.map(({ introduction, queen, home, day }) => (
          <li key={introduction}>
            <strong>
              <Code>{home.code}</Code>
            </strong>
            <QueenLink queen={queen} />
            <span className="grows soft">{dayWords(day, today())}</span>
            <button
              type="button"
              className="button"
              aria-disabled={busy}
              onClick={() => void settle(introduction, true)}
            >
              {say('nursing.took')} <span className="visually-hidden">{home.code}</span>
            </button>
            <button
              type="button"
              className="button"
              aria-disabled={busy}
              onClick={() => void settle(introduction, false)}
            >
              {say('nursing.took-not')} <span className="visually-hidden">{home.code}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
