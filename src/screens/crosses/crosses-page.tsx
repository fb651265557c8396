import { Link, useNavigate } from '@tanstack/react-router';
import { useMemo } from 'react';
import { type CrossLine, crosses } from '#questions/crosses/crosses.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { StateSign } from '../parts/state-sign.tsx';
import { useKeys } from '../shell/keys.ts';
import { dayAndDistance, stageSign, stageWords } from './cross-words.ts';
import { CrossesNav } from './crosses-nav.tsx';
import { SidesShort } from './sides.tsx';

function NextTask({ cross }: { cross: CrossLine }) {
  const { next } = cross;
  if (next === null) return null;
  const words = taskWords({ ...next, queens: cross.wanted });
  return (
    <p className="next">
      <strong>{next.late ? say('cross.next-late') : say('cross.next')}</strong> {dayWords(next.from, today())}: {words}
    </p>
  );
}

function CrossCard({ cross }: { cross: CrossLine }) {
  return (
    <li className={`cross-card ${cross.stage}`}>
      <div className="letter">
        <Link to="/crosses/$cross" params={{ cross: cross.id }} className="code">
          {cross.code}
        </Link>
      </div>
      <div className="stack tight">
        <div className="spread">
          <strong>{cross.day === null ? say('cross.no-day') : dayAndDistance(cross.day)}</strong>
          <StateSign sign={stageSign(cross.stage)} words={stageWords(cross.stage, cross.count)} />
        </div>
        <SidesShort sides={cross.sides} />
        <p className="soft">
          {say('cross.wanted', { n: cross.wanted, dose: cross.dose })}
          {cross.purpose === null ? '' : ` · ${cross.purpose}`}
        </p>
        <NextTask cross={cross} />
      </div>
    </li>
  );
}

/** Two drawn crosses, as they will look. */
const DrawnCross = () => (
  <svg viewBox="0 0 320 96" className="drawing wide" aria-hidden="true">
    <path d="M20 26 40 62H0ZM20 72v14" />
    <path d="M60 40h40m-20-14v28" />
    <circle cx="140" cy="44" r="17" />
    <circle cx="148" cy="40" r="17" />
    <path d="M190 44h34m-9-9 9 9-9 9" />
    {[246, 266, 286, 306].map((x) => (
      <path key={x} d={`M${x} 34l9 20h-18Z`} />
    ))}
  </svg>
);

function NoCross() {
  return (
    <section className="empty">
      <p>{say('cross.empty')}</p>
      <DrawnCross />
      <div className="cluster">
        <Link to="/crosses/start" className="button main">
          {say('cross.start')}
        </Link>
        <Link to="/crosses/new" className="button">
          {say('cross.new')} <kbd>N</kbd>
        </Link>
      </div>
    </section>
  );
}

/** Every cross: who with whom, when, how far it is, and what is next. */
export function CrossesPage() {
  const navigate = useNavigate();
  const query = useAsk(crosses, { today: today() });
  useKeys(useMemo(() => ({ N: () => void navigate({ to: '/crosses/new' }) }), [navigate]));
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('place.crosses')}</h1>
        <Link to="/crosses/new" className="button">
          {say('cross.new')} <kbd>N</kbd>
        </Link>
      </div>
      <CrossesNav />
      <Asked query={query}>
        {(answer) =>
          answer.crosses.length === 0 ? (
            <NoCross />
          ) : (
            <ul className="cross-cards">
              {answer.crosses.map((cross) => (
                <CrossCard key={cross.id} cross={cross} />
              ))}
            </ul>
          )
        }
      </Asked>
    </section>
  );
}
