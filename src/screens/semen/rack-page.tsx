import { Link, useNavigate } from '@tanstack/react-router';
import { type CSSProperties, type KeyboardEvent, useMemo, useState } from 'react';
import { microlitresPerMillimetre } from '#domain/laboratory/bore.ts';
import type { UseFirstRule } from '#domain/semen/use-first.ts';
import { type RackTube, rack, useFirstRules } from '#questions/semen/rack.ts';
import { millimetres } from '#units/volume.ts';
import { say, sayAny } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { useKeys } from '../shell/keys.ts';
import { Balances } from './balances.tsx';
import { DronesNeededPanel } from './drones-needed-panel.tsx';
import { EmptyRack } from './empty-rack.tsx';
import { SemenNav } from './semen-nav.tsx';
import { ageWords, partsWords } from './semen-words.ts';
import { drawnWords, TubeDrawing } from './tube-drawing.tsx';

const RULE = 'combwright.rack-rule';
const DOSE = 8;
/** A tube whose bore nobody measured is drawn as if one millimetre held one microlitre. */
const UNMEASURED = 1;

/** Length of the column a full tube would have, mm. */
const lengthOf = ({ bore, full }: RackTube): number =>
  full / (bore === null ? UNMEASURED : microlitresPerMillimetre(millimetres(bore)));

const isEmpty = ({ left, overdrawn }: RackTube): boolean => left <= 1e-9 && overdrawn <= 1e-9;

function States({ tube }: { tube: RackTube }) {
  const words = [
    tube.mixing === 'layered' || tube.mixing === 'empty' ? '' : sayAny(`semen.mixing.${tube.mixing}`),
    tube.diluted ? say('semen.diluted') : '',
    tube.sealed ? say('semen.sealed') : '',
    tube.frozen ? say('semen.frozen') : '',
  ].filter(Boolean);
  return words.length === 0 ? null : <span className="note">{words.join(' · ')}</span>;
}

function RackRow({ tube, longest, place }: { tube: RackTube; longest: number; place: number }) {
  const width = Math.max(0.08, lengthOf(tube) / longest);
  const age = ageWords(tube);
  return (
    <li style={{ '--length': width } as CSSProperties}>
      <Link to={`/semen/tube/${tube.id}`} className="rack-row">
        <span className="end-left">
          <span className="place">{place}</span>
          <strong className="code">{tube.code}</strong>
          <span>{partsWords(tube.mothers)}</span>
          <span className="note">{tube.mothers.length === 1 ? (tube.mothers[0]?.line ?? '') : ''}</span>
        </span>
        <TubeDrawing {...tube} dose={DOSE} />
        <span className="end-right">
          <strong className="figures">{drawnWords({ ...tube, dose: DOSE })}</strong>
          <span>{age}</span>
          <States tube={tube} />
        </span>
      </Link>
    </li>
  );
}

/** Up and down walk the rack; Enter opens the tube (it is a link). */
function walk(event: KeyboardEvent<HTMLElement>): void {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (step === undefined) return;
  const rows = [...event.currentTarget.querySelectorAll<HTMLElement>('.rack-row')];
  const at = rows.indexOf(document.activeElement as HTMLElement);
  const next = rows[at < 0 ? 0 : at + step];
  if (next === undefined) return;
  event.preventDefault();
  next.focus();
}

function useRule(): [UseFirstRule, (rule: UseFirstRule) => void] {
  const kept = localStorage.getItem(RULE);
  const [rule, setRule] = useState<UseFirstRule>(useFirstRules.find((each) => each === kept) ?? 'oldest');
  return [
    rule,
    (next) => {
      localStorage.setItem(RULE, next);
      setRule(next);
    },
  ];
}

/** The rack: every tube drawn to length in the order it should be used; what is empty lies on the floor. */
export function RackPage() {
  const [rule, setRule] = useRule();
  const query = useAsk(rack, { rule, dose: DOSE });
  const navigate = useNavigate();
  useKeys(useMemo(() => ({ N: () => void navigate({ to: '/semen/tally' }) }), [navigate]));
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('place.semen')}</h1>
        <SemenNav />
      </div>
      <Asked query={query}>
        {({ tubes, balances, asked }) => {
          const held = tubes.filter((tube) => !isEmpty(tube));
          const floor = tubes.filter(isEmpty);
          const longest = Math.max(...held.map(lengthOf), 1);
          if (tubes.length === 0 && balances.every(({ promised }) => promised === 0)) return <EmptyRack />;
          return (
            <>
              {asked > 0 ? <p className="problem">{say('semen.asked', { n: asked })}</p> : null}
              <label className="cluster use-first">
                {say('semen.use-first')}
                <select value={rule} onChange={({ target }) => setRule(target.value as UseFirstRule)}>
                  {useFirstRules.map((each) => (
                    <option key={each} value={each}>
                      {sayAny(`semen.rule.${each}`)}
                    </option>
                  ))}
                </select>
              </label>
              {held.length === 0 ? <p>{say('semen.rack-bare')}</p> : null}
              <ol className="rack" onKeyDown={walk} aria-label={say('semen.rack')}>
                {held.map((tube, i) => (
                  <RackRow key={tube.id} tube={tube} longest={longest} place={i + 1} />
                ))}
              </ol>
              {floor.length === 0 ? null : (
                <div className="rack-floor">
                  <span className="note">{say('semen.floor')}</span>
                  {floor.map((tube) => (
                    <Link key={tube.id} to={`/semen/tube/${tube.id}`} className="code empty-tube">
                      {tube.code}
                    </Link>
                  ))}
                </div>
              )}
              <p className="note">{say('semen.rack-reads', { dose: DOSE })}</p>
              <Balances balances={balances} />
              <DronesNeededPanel />
            </>
          );
        }}
      </Asked>
    </section>
  );
}
