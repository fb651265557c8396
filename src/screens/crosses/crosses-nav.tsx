import '../style/stock.css';
import { Link, useRouterState } from '@tanstack/react-router';
import { say, type WordId } from '#words/say.ts';

const parts: readonly { path: string; words: WordId }[] = [
  { path: '/crosses', words: 'cross.all' },
  { path: '/crosses/choose', words: 'cross.choose' },
  { path: '/crosses/start', words: 'cross.start' },
];

/** The parts of Crosses, side by side. */
export function CrossesNav() {
  const path = useRouterState({ select: (state) => state.location.pathname });
  return (
    <nav className="parts-of-place" aria-label={say('cross.parts')}>
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
