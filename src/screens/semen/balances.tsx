import type { Balance } from '#questions/semen/rack.ts';
import { say } from '#words/say.ts';

const percent = (part: number): string => `${Math.max(0, Math.min(1, part)) * 100}%`;

/** Need against stock of each drone mother: two bars of the same length scale. */
export function Balances({ balances }: { balances: readonly Balance[] }) {
  if (balances.length === 0) return null;
  const most = Math.max(...balances.flatMap(({ semen, promised }) => [semen, promised]), 1);
  return (
    <section className="stack tight" aria-labelledby="balances">
      <h2 id="balances">{say('semen.balances')}</h2>
      <ul className="balances">
        {balances.map(({ name, kind, semen, promised, free, crosses }) => (
          <li key={`${kind} ${name}`}>
            <span className="spread">
              <strong className="code">{kind === 'open' ? say('semen.strangers') : name}</strong>
              <span className="figures">
                {free < -1e-9
                  ? say('semen.short', { by: (-free).toFixed(1) })
                  : say('semen.free', { free: free.toFixed(1) })}
              </span>
            </span>
            <span className="bars" aria-hidden="true">
              <span className="have" style={{ width: percent(semen / most) }} />
              <span className="want" style={{ width: percent(promised / most) }} />
            </span>
            <span className="note">
              {say('semen.have-promised', { semen: semen.toFixed(1), promised: promised.toFixed(1) })}
              {crosses.length === 0 ? '' : ` (${crosses.join(', ')})`}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
