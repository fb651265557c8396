import '../style/stock.css';
import { Link, useRouterState } from '@tanstack/react-router';
import { say, type WordId } from '#words/say.ts';

const parts: readonly { path: string; words: WordId }[] = [
  { path: '/rearing', words: 'rearing.season' },
  { path: '/rearing/virgins', words: 'rearing.virgins' },
  { path: '/rearing/profiles', words: 'rearing.profiles' },
];

/** The parts of Rearing, side by side. */
export function RearingNav() {
  const path = useRouterState({ select: (state) => state.location.pathname });
  return (
    <nav className="parts-of-place" aria-label={say('rearing.parts')}>
      <ul>
        {parts.map((part) => (
          <li key={part.path}>
            <Link to={part.path} activeOptions={{ exact: true }} aria-current={path === part.path ? 'page' : undefined}>
              {say(part.words)}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}
