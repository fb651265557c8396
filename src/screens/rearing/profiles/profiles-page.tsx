import { Link, useParams } from '@tanstack/react-router';
import { type ProfilesAnswer, profilesQuestion } from '#questions/rearing/profiles.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { profileWords } from '../profile-words.ts';
import { RearingNav } from '../rearing-nav.tsx';
import { FiguresTable } from './figures-table.tsx';
import { ProfileHead } from './profile-head.tsx';

function Sets({ profiles, usual, chosen }: ProfilesAnswer) {
  return (
    <nav aria-label={say('profiles.sets')}>
      <ul className="profile-sets">
        {profiles.map(({ profile }) => (
          <li key={profile.name}>
            <Link
              to="/rearing/profiles/$profile"
              params={{ profile: profile.name }}
              aria-current={profile.name === chosen.profile.name ? 'page' : undefined}
            >
              {profileWords(profile.name)}
              {profile.name === usual ? <span className="usual"> · {say('profiles.usual')}</span> : null}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** The sets of times and losses: those that ship, one's own, and what one's records say. */
export function ProfilesPage() {
  const { profile } = useParams({ strict: false });
  const query = useAsk(profilesQuestion, { today: today(), ...(profile === undefined ? {} : { profile }) });
  return (
    <article className="stack">
      <RearingNav />
      <h1>{say('rearing.profiles')}</h1>
      <p>{say('profiles.what')}</p>
      <Asked query={query}>
        {(answer) => (
          <>
            <Sets {...answer} />
            {profile !== undefined && answer.chosen.profile.name !== profile ? <p>{say('profiles.unknown')}</p> : null}
            <ProfileHead answer={answer} />
            <p className="note">{say('profiles.how-learned')}</p>
            <FiguresTable line={answer.chosen} learned={answer.learned} />
          </>
        )}
      </Asked>
    </article>
  );
}
