import { Link } from '@tanstack/react-router';
import { say } from '#words/say.ts';

/** What this place answers, with a small drawn example, before anything is in it. */
export function EmptyRack() {
  return (
    <div className="empty">
      <p>{say('semen.empty')}</p>
      <svg viewBox="0 0 360 96" className="example" role="img" aria-label={say('semen.empty-drawing')}>
        <g fill="none" stroke="currentColor" strokeWidth="2">
          <path d="M4 10H320M4 34H320" opacity="0.35" />
          <rect x="60" y="12" width="250" height="20" />
          <rect x="60" y="60" width="170" height="20" />
        </g>
        <rect x="61" y="13" width="160" height="18" fill="currentColor" />
        <rect x="61" y="61" width="60" height="18" fill="currentColor" />
        <g stroke="var(--sheet)" strokeWidth="2">
          <path d="M101 13V31M141 13V31M181 13V31" />
        </g>
        <g fill="currentColor" fontSize="14">
          <text x="4" y="27">
            C-07
          </text>
          <text x="4" y="75">
            C-08
          </text>
          <text x="318" y="27">
            4 ×
          </text>
          <text x="238" y="75">
            1 ×
          </text>
        </g>
      </svg>
      <Link to="/semen/tally" className="button main">
        {say('semen.nav.tally')}
      </Link>
    </div>
  );
}
