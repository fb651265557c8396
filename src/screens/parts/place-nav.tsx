import '../style/stock.css';
import { Link, useRouterState } from '@tanstack/react-router';
import { say, type WordId } from '#words/say.ts';

/** One part of a place: its address and what it is called. */
export type PlacePart = { path: string; words: WordId };

/** The parts of a place, side by side; the open one is marked. */
export function PlaceNav({ label, parts }: { label: WordId; parts: readonly PlacePart[] }) {
  const path = useRouterState({ select: (state) => state.location.pathname });
  return (
    <nav className="parts-of-place" aria-label={say(label)}>
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
