import { Link } from '@tanstack/react-router';
import { changeCross } from '#actions/crosses/change-cross.ts';
import type { SeasonCrossLine, SeasonPlanPage } from '#questions/rearing/season/season-plan.ts';
import { dayWords } from '#words/day-words.ts';
import { shareWords } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { Code } from '../../parts/identity-band.tsx';
import { sayHere } from '../../parts/problems.tsx';
import { profileWords } from '../profile-words.ts';
import { TooNear } from '../too-near.tsx';
import { EditDay, EditNumber, type Keep } from './edit-cell.tsx';

type Field = 'queens_wanted' | 'dose_ul' | 'earliest_on' | 'latest_on' | 'worth' | 'keep_day';

/** Keeps one field of a cross as an act of its own. */
function useKeep(cross: SeasonCrossLine) {
  const { run } = useDo();
  return <T,>(field: Field): Keep<T> =>
    async (value) => {
      const did = await run(changeCross, { cross: cross.id, set: { [field]: value } });
      return 'problems' in did ? did.problems : [];
    };
}

const droneWords = ({ drones }: SeasonCrossLine) =>
  drones.map(({ name, share }) => (drones.length === 1 ? name : `${name} ${shareWords(share)}`)).join(', ');

/** Times a cross has of its own: their set, the age of its larvae, its warmth. */
const ownWords = ({ profile, larvaHours, celsius }: NonNullable<SeasonCrossLine['own']>) =>
  [
    say('season.own-times', { profile: profileWords(profile) }),
    larvaHours === null ? '' : say('season.own-larvae', { hours: larvaHours }),
    celsius === null ? '' : say('season.own-warmth', { celsius }),
  ]
    .filter((words) => words !== '')
    .join(', ');

/** Which times hold: the usual set, and every cross that deviates from it, with the way to where it is set. */
export function TimesThatHold({ usual, crosses }: Pick<SeasonPlanPage, 'usual' | 'crosses'>) {
  const own = crosses.flatMap(({ id, code, own: its }) => (its === null ? [] : [{ id, code, its }]));
  return (
    <section className="sheet stack tight" aria-labelledby="times-that-hold">
      <h2 id="times-that-hold">{say('season.times')}</h2>
      <p>
        {say('season.usual-times', { profile: profileWords(usual), own: own.length })}{' '}
        <Link to="/rearing/profiles">{say('season.see-times')}</Link>
      </p>
      {own.length === 0 ? null : (
        <ul className="plain">
          {own.map(({ id, code, its }) => (
            <li key={id}>
              <Link to="/crosses/$cross/change" params={{ cross: id }} className="button quiet">
                {say('cross.named', { code })}
              </Link>{' '}
              {ownWords(its)}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** When a cross is inseminated, and whether the plan may move it. */
function DayCell({ cross }: { cross: SeasonCrossLine }) {
  const keep = useKeep(cross);
  if (cross.day === null) return <span className="soft">{say('cross.no-day')}</span>;
  return (
    <span className="day-kept">
      <strong>{dayWords(cross.day, today())}</strong>
      {cross.state === 'free' ? (
        <label className="tick">
          <input
            type="checkbox"
            checked={cross.keepDay}
            onChange={({ target }) => void keep<0 | 1>('keep_day')(target.checked ? 1 : 0)}
            aria-label={say('season.keep-day-of', { code: cross.code })}
          />
          {say('season.keep-day')}
        </label>
      ) : (
        <span className="note">{say(`season.state-${cross.state}`)}</span>
      )}
    </span>
  );
}

function WishRow({ cross }: { cross: SeasonCrossLine }) {
  const keep = useKeep(cross);
  const { code } = cross;
  const isFixed = cross.state !== 'free';
  const day = (value: typeof cross.earliest) => (value === null ? null : dayWords(value, today()));
  return (
    <>
      <tr className={cross.problems.length > 0 ? 'wish barred' : 'wish'}>
        <th scope="row">
          <span className="who-she-is">
            <Link to="/rearing/countback/$cross" params={{ cross: cross.id }}>
              <Code>{code}</Code>
            </Link>
            <span className="note">
              {cross.dams.join(', ')} × {droneWords(cross)}
            </span>
            {cross.own === null ? null : (
              <Link
                to="/crosses/$cross/change"
                params={{ cross: cross.id }}
                aria-label={say('season.own-of', { code })}
              >
                {say('season.has-own')}
              </Link>
            )}
          </span>
        </th>
        <td data-label={say('season.queens')} className="number">
          {isFixed ? (
            cross.queens
          ) : (
            <EditNumber
              label={say('season.queens-of', { code })}
              value={cross.queens}
              onKeep={keep<number | null>('queens_wanted')}
            />
          )}
        </td>
        <td data-label={say('season.dose')} className="number">
          {isFixed ? (
            `${cross.dose} µl`
          ) : (
            <EditNumber
              label={say('season.dose-of', { code })}
              value={cross.dose}
              onKeep={keep<number | null>('dose_ul')}
            />
          )}
        </td>
        <td data-label={say('season.earliest')}>
          {isFixed ? (
            day(cross.earliest)
          ) : (
            <EditDay label={say('season.earliest-of', { code })} value={cross.earliest} onKeep={keep('earliest_on')} />
          )}
        </td>
        <td data-label={say('season.latest')}>
          {isFixed ? (
            day(cross.latest)
          ) : (
            <EditDay label={say('season.latest-of', { code })} value={cross.latest} onKeep={keep('latest_on')} />
          )}
        </td>
        <td data-label={say('season.worth')} className="number">
          {isFixed ? (
            (cross.worth ?? 1)
          ) : (
            <EditNumber label={say('season.worth-of', { code })} value={cross.worth ?? 1} onKeep={keep('worth')} />
          )}
        </td>
        <td data-label={say('season.day')}>
          <DayCell cross={cross} />
        </td>
      </tr>
      {cross.instead === null ? null : (
        <tr className="wish-problem">
          <td colSpan={7}>
            <TooNear instead={cross.instead} />
          </td>
        </tr>
      )}
      {cross.problems.map((problem) => (
        <tr key={problem.code} className="wish-problem">
          <td colSpan={7}>
            <p className="problem">{sayHere(problem)}</p>
          </td>
        </tr>
      ))}
    </>
  );
}

/** Every cross of the season with what it wishes for, edited where it stands. */
export function WishesTable({ crosses }: { crosses: readonly SeasonCrossLine[] }) {
  return (
    <section className="stack tight" aria-labelledby="wishes">
      <div className="spread">
        <h2 id="wishes">{say('season.crosses')}</h2>
        <Link to="/crosses/new" className="button">
          {say('season.new-cross')} <kbd>N</kbd>
        </Link>
      </div>
      {crosses.length === 0 ? (
        <p className="soft">{say('season.no-crosses')}</p>
      ) : (
        <table className="book cards wide wishes">
          <caption className="visually-hidden">{say('season.crosses')}</caption>
          <thead>
            <tr>
              <th scope="col">{say('season.cross')}</th>
              <th scope="col" className="number">
                {say('season.queens')}
              </th>
              <th scope="col" className="number">
                {say('season.dose')}
              </th>
              <th scope="col">{say('season.earliest')}</th>
              <th scope="col">{say('season.latest')}</th>
              <th scope="col" className="number">
                {say('season.worth')}
              </th>
              <th scope="col">{say('season.day')}</th>
            </tr>
          </thead>
          <tbody>
            {crosses.map((cross) => (
              <WishRow key={cross.id} cross={cross} />
            ))}
          </tbody>
        </table>
      )}
      <p className="note">{say('season.wishes-how')}</p>
    </section>
  );
}
