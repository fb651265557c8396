import { Link } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { type TodayAnswer, todayQuestion } from '#questions/today/today.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { useKeys } from '../shell/keys.ts';
import { Doors } from './doors.tsx';
import { OwnTask } from './own-task.tsx';
import { ParkedActs } from './parked.tsx';
import { WeekStrip } from './week-strip.tsx';
import { Worries } from './worries.tsx';
import { YardsWork } from './yard-work.tsx';

/** Says that it is insemination day, with the way to the bench. */
function BenchToday({ bench }: Pick<TodayAnswer, 'bench'>) {
  if (bench.length === 0) return null;
  return (
    <section className="bench-today">
      <p>
        {bench.map(({ id, code, queens }) => (
          <span key={id}>{say('today.bench', { code, queens })} </span>
        ))}
      </p>
      <Link to="/bench" className="button main">
        {say('today.to-bench')}
      </Link>
    </section>
  );
}

const openIn = ({ today: yards }: TodayAnswer) =>
  yards.flatMap(({ lines }) => lines).filter(({ state }) => state === 'late' || state === 'due').length;

function Work({ answer }: { answer: TodayAnswer }) {
  const [writing, setWriting] = useState(false);
  useKeys(useMemo(() => ({ N: () => setWriting(true) }), []));
  return (
    <>
      <WeekStrip week={answer.week} />
      <BenchToday bench={answer.bench} />
      <section className="stack tight" aria-labelledby="due">
        <div className="spread">
          <h2 id="due">{say('today.due', { n: openIn(answer), late: answer.late })}</h2>
          <button type="button" className="button" onClick={() => setWriting(true)}>
            {say('own-task.new')} <kbd>N</kbd>
          </button>
        </div>
        {writing ? <OwnTask onLeave={() => setWriting(false)} /> : null}
        {answer.today.length === 0 ? (
          <p className="soft">{say('today.nothing')}</p>
        ) : (
          <YardsWork yards={answer.today} />
        )}
      </section>
      <section className="stack tight" aria-labelledby="tomorrow">
        <h2 id="tomorrow">{say('today.tomorrow')}</h2>
        {answer.tomorrow.length === 0 ? (
          <p className="soft">{say('today.nothing-tomorrow')}</p>
        ) : (
          <YardsWork yards={answer.tomorrow} />
        )}
      </section>
      <Worries worries={answer.worries} />
      <ParkedActs />
    </>
  );
}

/** What is due, late and coming; on an empty book, the three ways in. */
export function TodayPage() {
  const query = useAsk(todayQuestion, { today: today() });
  return (
    <section className="stack wide today">
      <div className="spread">
        <h1>{say('place.today')}</h1>
        <p className="lead">{dayWords(today())}</p>
      </div>
      <Asked query={query}>{(answer) => (answer.isEmpty ? <Doors /> : <Work answer={answer} />)}</Asked>
    </section>
  );
}
