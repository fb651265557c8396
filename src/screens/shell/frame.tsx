import { Link, Outlet, useNavigate, useRouterState } from '@tanstack/react-router';
import { useMemo, useRef } from 'react';
import { say } from '#words/say.ts';
import { UnsentLine } from '../link/outbox/unsent-line.tsx';
import { FindBox } from './find-box.tsx';
import { FootLine } from './foot-line.tsx';
import { KeyHelp } from './key-help.tsx';
import { useKeys } from './keys.ts';
import { places } from './places.ts';
import { SampleStripe } from './sample-stripe.tsx';

function Rail() {
  const path = useRouterState({ select: (state) => state.location.pathname });
  return (
    <nav className="rail" aria-label={say('edge.places')}>
      <ul>
        {places.map((place) => {
          const here = path.startsWith(place.path);
          return (
            <li key={place.path}>
              <Link to={place.path} className={here ? 'here' : ''} aria-current={here ? 'page' : undefined}>
                {say(place.words)} <kbd>G {place.key}</kbd>
              </Link>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}

/** `G` and then a letter goes to a place. */
function usePlaceKeys(): void {
  const navigate = useNavigate();
  const after = useRef(0);
  const map = useMemo(
    () =>
      Object.fromEntries([
        [
          'G',
          () => {
            after.current = Date.now();
          },
        ],
        ...places.map(({ key, path }) => [
          key,
          () => {
            if (Date.now() - after.current < 1_500) void navigate({ to: path });
          },
        ]),
      ]),
    [navigate],
  );
  useKeys(map);
}

/** What stands around every place: find, the seven places, what was done last, and how safe it is. */
export function Frame() {
  usePlaceKeys();
  // The bench board is a screen of its own: nothing stands around it, and nothing else works while a foot presses.
  const atBoard = useRouterState({ select: (state) => state.location.pathname.includes('/board/') });
  if (atBoard)
    return (
      <main className="leaf at-board" id="leaf">
        <Outlet />
      </main>
    );
  return (
    <div className="frame">
      <a className="skip" href="#leaf">
        {say('edge.skip')}
      </a>
      <header className="band">
        <Link to="/today" className="name">
          {say('app.name')}
        </Link>
        <FindBox />
        <nav className="cluster" aria-label={say('edge.edge')}>
          <Link to="/history">{say('edge.history')}</Link>
          <Link to="/drawer">{say('edge.drawer')}</Link>
          <KeyHelp />
        </nav>
      </header>
      <Rail />
      <SampleStripe />
      <main className="leaf" id="leaf" tabIndex={-1}>
        <UnsentLine />
        <Outlet />
      </main>
      <FootLine />
    </div>
  );
}
