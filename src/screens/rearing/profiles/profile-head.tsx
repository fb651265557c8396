import { useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import { chooseUsualProfile } from '#actions/rearing/profile/choose-usual-profile.ts';
import { dropProfile } from '#actions/rearing/profile/drop-profile.ts';
import { keepProfile } from '#actions/rearing/profile/keep-profile.ts';
import { setFigures } from '#actions/rearing/profile/set-figures.ts';
import type { ProfileLine, ProfilesAnswer } from '#questions/rearing/profiles.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { Form, NumberField, TextField } from '../../parts/form.tsx';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { profileWords } from '../profile-words.ts';
import { learnedEntry } from './learned-words.ts';

const useGo = () => {
  const navigate = useNavigate();
  return (profile: string) => void navigate({ to: '/rearing/profiles/$profile', params: { profile } });
};

/** A set of one's own is made from the one looked at. */
function NewProfile({ line }: { line: ProfileLine }) {
  const { run, problems, busy } = useDo();
  const [name, setName] = useState('');
  const go = useGo();
  const based_on = (line.base ?? line.profile).name;
  const submit = async () => {
    const did = await run(keepProfile, { name, based_on });
    if ('problems' in did) return;
    tell(say('profiles.kept-new', { profile: name.trim() }));
    go(name.trim());
  };
  return (
    <details className="sheet">
      <summary>{say('profiles.new')}</summary>
      <Form act={say('profiles.keep-new')} problems={problems} busy={busy} onSubmit={submit}>
        <div className="fields one-column">
          <TextField label={say('profiles.new-name')} value={name} onChange={setName} at="name" needed />
        </div>
      </Form>
    </details>
  );
}

/** Name, larval age and warmth of a set of one's own. */
function OwnProfile({ line }: { line: ProfileLine }) {
  const { run, problems, busy } = useDo();
  const [name, setName] = useState(line.profile.name);
  const [hours, setHours] = useState<number | null>(line.conditions.larvalAgeHours ?? null);
  const [celsius, setCelsius] = useState<number | null>(line.conditions.temperature ?? null);
  const go = useGo();
  const { id } = line;
  if (id === null) return null;
  const keep = async () => {
    const did = await run(keepProfile, { profile: id, name, larva_age_hours: hours, brood_celsius: celsius });
    if ('problems' in did) return;
    tell(say('profiles.kept', { profile: name.trim() }));
    go(name.trim());
  };
  const drop = async () => {
    const did = await run(dropProfile, { profile: id });
    if ('problems' in did) return tell(sayRefusals(did.problems));
    tell(say('profiles.dropped', { profile: line.profile.name }));
    go(line.base?.name ?? 'standard-text');
  };
  return (
    <details className="sheet">
      <summary>{say('profiles.rename')}</summary>
      <Form act={say('profiles.keep')} problems={problems} busy={busy} onSubmit={keep}>
        <div className="fields">
          <TextField label={say('profiles.new-name')} value={name} onChange={setName} at="name" needed />
          <NumberField
            label={say('profiles.larva-age')}
            unit={say('cross.hours')}
            hint={say('profiles.larva-age-hint')}
            value={hours}
            onChange={setHours}
            at="larva_age_hours"
          />
          <NumberField
            label={say('profiles.celsius')}
            unit="°C"
            hint={say('profiles.celsius-hint')}
            value={celsius}
            onChange={setCelsius}
            at="brood_celsius"
          />
        </div>
      </Form>
      <button type="button" className="button quiet" onClick={() => void drop()}>
        {say('profiles.drop')}
      </button>
    </details>
  );
}

/** What the set is, whether it is the usual one, and what can be done with it. */
export function ProfileHead({ answer }: { answer: ProfilesAnswer }) {
  const { chosen, usual, learned } = answer;
  const { run, busy } = useDo();
  const { name } = chosen.profile;
  const { id } = chosen;
  const makeUsual = async () => {
    const did = await run(chooseUsualProfile, { profile: name });
    tell('problems' in did ? sayRefusals(did.problems) : say('profiles.made-usual', { profile: profileWords(name) }));
  };
  const takeAll = async () => {
    if (id === null) return;
    const did = await run(setFigures, { profile: id, figures: learned.map(learnedEntry), back: [] });
    tell('problems' in did ? sayRefusals(did.problems) : say('profiles.figures-kept', { n: learned.length }));
  };
  const open = chosen.crosses;
  return (
    <section className="stack tight">
      <h2>{profileWords(name)}</h2>
      {chosen.base === null ? (
        <p className="soft">{say('profiles.own-first')}</p>
      ) : (
        <p>{say('profiles.based-on', { base: profileWords(chosen.base.name), n: chosen.own.length })}</p>
      )}
      {open.length === 0 ? null : <p>{say('profiles.named-by', { n: open.length, crosses: open.join(', ') })}</p>}
      <div className="cluster">
        {name === usual ? (
          <strong>{say('profiles.is-usual')}</strong>
        ) : (
          <button type="button" className="button main" aria-disabled={busy} onClick={() => void makeUsual()}>
            {say('profiles.make-usual')}
          </button>
        )}
        {id === null || learned.length === 0 ? null : (
          <button type="button" className="button" aria-disabled={busy} onClick={() => void takeAll()}>
            {say('profiles.take-all', { n: learned.length })}
          </button>
        )}
      </div>
      {id === null ? <NewProfile key={name} line={chosen} /> : <OwnProfile key={name} line={chosen} />}
    </section>
  );
}
