import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { settleParked } from '#actions/rearing/settle-parked.ts';
import { type Parked, parkedActs } from '#questions/today/parked-acts.ts';
import { dayOfMoment } from '#units/moment.ts';
import { say, sayAny } from '#words/say.ts';
import { postJson } from '../link/server.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { DayWords } from '../parts/day-words.tsx';
import { sayHere } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { SettleForm } from './worries.tsx';

type Outcome = { outcome: 'applied' | 'again' | 'parked' };

function ParkedAct({ parked }: { parked: Parked }) {
  const client = useQueryClient();
  const { run } = useDo();
  const [letting, setLetting] = useState(false);
  const { act, problems } = parked;
  const what = sayAny(`action.${act.name}`);
  const again = async () => {
    const [answer] = await postJson<Outcome[]>('/api/acts', [act]);
    tell(say(answer?.outcome === 'parked' ? 'parked.still-not' : 'parked.done', { what }));
    await client.invalidateQueries();
  };
  const letGo = async (how: string) =>
    !('problems' in (await run(settleParked, { parked: act.id, what: act.name, how })));
  return (
    <li className="worry">
      <p>
        <strong>{what}</strong> <DayWords day={dayOfMoment(act.done)} />: {problems.map(sayHere).join(' ')}
      </p>
      {letting ? (
        <SettleForm onSettle={letGo} onLeave={() => setLetting(false)} />
      ) : (
        <div className="cluster">
          <button type="button" className="button" onClick={() => void again()}>
            {say('parked.again')}
          </button>
          <button type="button" className="button" onClick={() => setLetting(true)}>
            {say('parked.let-go')}
          </button>
        </div>
      )}
    </li>
  );
}

/** Acts that devices sent and that could not be done: done after all, or let go with a word. */
export function ParkedActs() {
  const { data } = useAsk(parkedActs, {});
  const parked = data?.parked ?? [];
  if (parked.length === 0) return null;
  return (
    <section className="stack tight" aria-labelledby="parked">
      <h2 id="parked">{say('parked.title', { n: parked.length })}</h2>
      <ul className="worries">
        {parked.map((each) => (
          <ParkedAct key={each.act.id} parked={each} />
        ))}
      </ul>
    </section>
  );
}
