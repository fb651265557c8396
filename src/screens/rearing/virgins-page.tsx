import { useMemo, useState } from 'react';
import { giveCo2 } from '#actions/bench/give-co2.ts';
import { meanVirgins } from '#actions/rearing/mean-virgins.ts';
import { recordFate } from '#actions/stock/record-fate.ts';
import type { Virgin } from '#questions/rearing/gather-virgins.ts';
import { type CrossOfVirgins, type Virgins, virgins } from '#questions/rearing/virgins.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { NumberField } from '../parts/form.tsx';
import { calledOf, standsWords } from '../parts/identity-band.tsx';
import { Problems, sayRefusals } from '../parts/problems.tsx';
import { StateShape } from '../parts/state-sign.tsx';
import { tell } from '../parts/told.tsx';
import { QueenLink } from '../stock/queen-link.tsx';
import { RearingNav } from './rearing-nav.tsx';

const [FIRST, LAST] = [5, 14];

/** Her age on insemination day as a tick on the scale of days she can be used (5 to 14). */
function AgeScale({ age, today: now }: { age: number | null; today: number | null }) {
  if (age === null)
    return now === null ? null : <span className="age-scale">{say('virgins.age-today', { n: now })}</span>;
  const x = (day: number) => 4 + (day - 3) * 8;
  const at = Math.min(16, Math.max(3, age));
  return (
    <span className="age-scale">
      <svg viewBox="0 0 112 20" width="112" height="20" aria-hidden="true">
        <path d={`M${x(3)} 14H${x(16)}`} className="thin" />
        <path d={`M${x(FIRST)} 14H${x(LAST)}`} className="usable" />
        <path d={`M${x(6)} 14H${x(9)}`} className="best" />
        <path d={`M${x(at)} 2V18`} className="tick" />
      </svg>
      {say('virgins.age', { n: age })}
      {age < FIRST || age > LAST ? <strong> {say('virgins.not-of-age')}</strong> : null}
    </span>
  );
}

type RowProps = { virgin: Virgin; chosen: boolean; onToggle: () => void; crosses: readonly CrossOfVirgins[] };

/** The crosses she could be for, while it is open which. */
function couldBe({ cross, couldBeFor }: Virgin, crosses: readonly CrossOfVirgins[]): string {
  const codes = couldBeFor.flatMap((id) => crosses.find((one) => one.id === id)?.code ?? []);
  return cross !== null || codes.length === 0 ? '' : say('virgins.could-be', { crosses: codes.join(', ') });
}

function VirginRow({ virgin, chosen, onToggle, crosses }: RowProps) {
  const { run } = useDo();
  const { face, co2, ageOnI, age } = virgin;
  const gone = async () => {
    const did = await run(
      recordFate,
      { queen: face.id as RecordId, kind: 'died', happened_on: today() },
      { happened: true },
    );
    tell('problems' in did ? sayRefusals(did.problems) : say('virgins.gone', { code: calledOf(face) }));
  };
  return (
    <li className={co2 === 0 ? 'virgin missing' : 'virgin'}>
      <label className="virgin-pick">
        <input
          type="checkbox"
          checked={chosen}
          onChange={onToggle}
          aria-label={say('virgins.choose', { code: calledOf(face) })}
        />
      </label>
      <span className="virgin-who">
        <QueenLink queen={face} />
        <span className="note">{[standsWords(face.stands), couldBe(virgin, crosses)].filter(Boolean).join(' · ')}</span>
      </span>
      <AgeScale age={ageOnI} today={age} />
      <span className="virgin-co2">
        <StateShape sign={co2 === 0 ? 'planned' : 'done'} />{' '}
        {co2 === 0 ? <strong>{say('virgins.no-co2')}</strong> : say('virgins.co2', { n: co2 })}
      </span>
      <button type="button" className="button quiet" onClick={() => void gone()}>
        {say('virgins.found-dead')}
      </button>
    </li>
  );
}

/** Carbon dioxide for all that are chosen, as one act. */
function GiveCo2({ chosen, onGiven }: { chosen: readonly string[]; onGiven: () => void }) {
  const { run, problems, busy } = useDo();
  const [minutes, setMinutes] = useState<number | null>(2);
  const give = async () => {
    const queens = chosen as RecordId[];
    const did = await run(
      giveCo2,
      { queens, relation: 'before', ...(minutes === null ? {} : { minutes }) },
      { happened: true },
    );
    if ('problems' in did) return;
    tell(say('virgins.given', { n: chosen.length }));
    onGiven();
  };
  return (
    <div className="give-co2">
      <Problems problems={problems} title={say('form.not-kept')} />
      <NumberField
        label={say('virgins.minutes')}
        unit="min"
        hint={say('virgins.minutes-hint')}
        value={minutes}
        onChange={setMinutes}
        at="minutes"
      />
      <button
        type="button"
        className="button main"
        aria-disabled={busy || chosen.length === 0}
        onClick={() => (chosen.length === 0 || busy ? undefined : void give())}
      >
        {say('virgins.give', { n: chosen.length })}
      </button>
    </div>
  );
}

type MeanProps = { chosen: readonly string[]; crosses: readonly CrossOfVirgins[]; onSaid: () => void };

/** Says for which cross the chosen are meant, as one act; said again it is changed. */
function MeanFor({ chosen, crosses, onSaid }: MeanProps) {
  const { run, problems, busy } = useDo();
  const say_ = async (cross: CrossOfVirgins | null) => {
    const n = chosen.length;
    const did = await run(meanVirgins, { queens: chosen as RecordId[], cross: (cross?.id ?? null) as RecordId | null });
    if ('problems' in did) return;
    tell(cross === null ? say('virgins.meant-none', { n }) : say('virgins.meant', { n, code: cross.code }));
    onSaid();
  };
  const press = (cross: CrossOfVirgins | null) => () => (busy || chosen.length === 0 ? undefined : void say_(cross));
  return (
    <div className="stack tight">
      <Problems problems={problems} title={say('form.not-kept')} />
      <div className="cluster" role="group" aria-label={say('virgins.meant-for')}>
        <span>{say('virgins.meant-for')}</span>
        {crosses.map((cross) => (
          <button
            key={cross.id}
            type="button"
            className="button"
            aria-disabled={busy || chosen.length === 0}
            onClick={press(cross)}
          >
            {say('virgins.mean-cross', { code: cross.code, meant: cross.meant, wanted: cross.wanted })}
          </button>
        ))}
        <button type="button" className="button" aria-disabled={busy || chosen.length === 0} onClick={press(null)}>
          {say('virgins.mean-none')}
        </button>
      </div>
    </div>
  );
}

const missingFirst = (a: Virgin, b: Virgin) => Number(a.co2 > 0) - Number(b.co2 > 0) || (b.age ?? 0) - (a.age ?? 0);

const enoughWords = (cross: CrossOfVirgins | undefined): string =>
  cross === undefined ? '' : say('virgins.enough', { meant: cross.meant, wanted: cross.wanted });

function Lists({ virgins: all, crosses }: Virgins) {
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const byCross = useMemo(() => groupBy(all, ({ cross }) => cross?.id ?? ''), [all]);
  const toggle = (id: string) =>
    setChosen(chosen.includes(id) ? chosen.filter((each) => each !== id) : [...chosen, id]);
  const missing = all.filter(({ co2 }) => co2 === 0).map(({ face }) => face.id);
  return (
    <>
      <section className="caution">
        <p>{say('virgins.caution-title')}</p>
        <p>{say('virgins.caution')}</p>
      </section>
      <div className="cluster">
        <strong>{say('virgins.missing', { n: missing.length, of: all.length })}</strong>
        <button type="button" className="button" onClick={() => setChosen(missing)}>
          {say('virgins.choose-missing')}
        </button>
        <button type="button" className="button" onClick={() => setChosen([])}>
          {say('bar.none')}
        </button>
      </div>
      <GiveCo2 chosen={chosen} onGiven={() => setChosen([])} />
      {crosses.length === 0 ? null : <MeanFor chosen={chosen} crosses={crosses} onSaid={() => setChosen([])} />}
      {[...byCross].map(([cross, members]) => (
        <section key={cross} className="stack tight">
          <h2>
            {members[0]?.cross == null
              ? say('virgins.no-cross')
              : say('virgins.for-cross', {
                  code: members[0].cross.code,
                  day: members[0].cross.day === null ? '' : dayWords(members[0].cross.day, today()),
                })}{' '}
            <span className="soft">{enoughWords(crosses.find(({ id }) => id === cross))}</span>
          </h2>
          <ul className="virgins">
            {[...members].sort(missingFirst).map((virgin) => (
              <VirginRow
                key={virgin.face.id}
                virgin={virgin}
                chosen={chosen.includes(virgin.face.id)}
                onToggle={() => toggle(virgin.face.id)}
                crosses={crosses}
              />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

/** Virgins waiting: how old each will be on the day, where she stands, and who had no carbon dioxide yet. */
export function VirginsPage() {
  const query = useAsk(virgins, { today: today() });
  return (
    <section className="stack">
      <h1>{say('rearing.virgins')}</h1>
      <RearingNav />
      <Asked query={query}>
        {(answer) =>
          answer.virgins.length === 0 ? (
            <section className="empty">
              <p>{say('virgins.empty')}</p>
              <svg viewBox="0 0 320 60" className="drawing wide" aria-hidden="true">
                <path d="M20 12h24v36H20ZM32 20v20M70 40h150M110 32v16M190 32v16M150 20v28" />
                <path d="M110 40h40" className="heavy" />
                <circle cx="270" cy="32" r="10" />
              </svg>
            </section>
          ) : (
            <Lists {...answer} />
          )
        }
      </Asked>
    </section>
  );
}
