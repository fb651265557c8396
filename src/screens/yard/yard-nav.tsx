import '../style/stock.css';
import '../style/yard.css';
import { Link, useRouterState } from '@tanstack/react-router';
import { say, type WordId } from '#words/say.ts';

const parts: readonly { path: string; words: WordId }[] = [
  { path: '/yard', words: 'yard.yards' },
  { path: '/yard/nursing', words: 'yard.nursing' },
  { path: '/yard/round', words: 'yard.round' },
  { path: '/yard/spring', words: 'yard.spring' },
  { path: '/yard/scores', words: 'yard.scores' },
];

/** The parts of Yard, side by side. */
export function YardNav() {
  const path = useRouterState({ select: (state) => state.location.pathname });
  return (
    <nav className="parts-of-place" aria-label={say('yard.parts')}>
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
