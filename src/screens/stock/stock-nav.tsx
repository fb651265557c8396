import '../style/stock.css';
import { Link, useRouterState } from '@tanstack/react-router';
import { say, type WordId } from '#words/say.ts';

const parts: readonly { path: string; words: WordId }[] = [
  { path: '/stock', words: 'stock.queens' },
  { path: '/stock/lines', words: 'stock.lines' },
  { path: '/stock/sisters', words: 'stock.sisters' },
  { path: '/stock/kinship', words: 'stock.kinship' },
  { path: '/stock/import', words: 'stock.bring' },
];

/** The parts of Stock, side by side. */
export function StockNav() {
  const path = useRouterState({ select: (state) => state.location.pathname });
  return (
    <nav className="parts-of-place" aria-label={say('stock.parts')}>
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
