import { Link } from '@tanstack/react-router';
import { say } from '#words/say.ts';

/** An address that leads nowhere. */
export function NoPage() {
  return (
    <section className="stack">
      <h1>{say('edge.no-page')}</h1>
      <p>{say('edge.no-page-help')}</p>
      <Link to="/today">{say('place.today')}</Link>
    </section>
  );
}
