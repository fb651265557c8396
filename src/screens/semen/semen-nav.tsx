import { Link } from '@tanstack/react-router';
import { say } from '#words/say.ts';

/** What can be done in Semen besides looking at the rack. */
export function SemenNav() {
  return (
    <nav className="cluster" aria-label={say('semen.nav')}>
      <Link to="/semen/tally" className="button main">
        {say('semen.nav.tally')} <kbd>N</kbd>
      </Link>
      <Link to="/semen/new-tube" className="button">
        {say('semen.nav.new-tube')}
      </Link>
      <Link to="/semen/receive" className="button">
        {say('semen.nav.receive')}
      </Link>
      <Link to="/semen/catches" className="button">
        {say('semen.nav.catches')}
      </Link>
      <Link to="/semen/laboratory" className="button">
        {say('semen.nav.laboratory')}
      </Link>
    </nav>
  );
}
