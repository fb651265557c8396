import '../../style/season.css';
import { useNavigate } from '@tanstack/react-router';
import { useCallback, useEffect, useMemo, useState } from 'react';
import { moveInseminationDay } from '#actions/rearing/season/move-insemination-day.ts';
import { type SeasonDays, seasonDays } from '#questions/rearing/season/season-days.ts';
import { seasonPlan } from '#questions/rearing/season/season-plan.ts';
import { addDays } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { Asked } from '../../parts/asked.tsx';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { isTyping, keysAreOn, useKeys } from '../../shell/keys.ts';
import { RearingNav } from '../rearing-nav.tsx';
import { BeginSeason } from './begin-season.tsx';
import { InseminationDays, type Moving } from './insemination-days.tsx';
import { DaysOff, Limits, Weighed } from './limits.tsx';
import { Propose } from './propose.tsx';
import { RaisingTable } from './raising-table.tsx';
import { SeasonLanes } from './season-lanes.tsx';
import { TimesThatHold, WishesTable } from './wishes-table.tsx';

const isControl = (target: EventTarget | null) =>
  target instanceof HTMLElement && target.closest('a, button, summary') !== null;

/** Keys that move the day that is held: [ and ] a day, Enter keeps, Escape leaves. */
function useMoveKeys(moving: Moving | null, onMoving: (moving: Moving | null) => void, onKeep: () => void): void {
  useEffect(() => {
    if (moving === null) return;
    const pressed = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target) || !keysAreOn()) return;
      if (event.key === '[' || event.key === ']') {
        event.preventDefault();
        const days = moving.days + (event.key === ']' ? 1 : -1);
        onMoving(days === 0 ? null : { ...moving, days });
      } else if (event.key === 'Enter' && !isControl(event.target)) {
        event.preventDefault();
        onKeep();
      } else if (event.key === 'Escape') onMoving(null);
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, [moving, onMoving, onKeep]);
}

/** The days of the season with their chances, everything raised for them, and moves of a day. */
function Days({ answer }: { answer: SeasonDays }) {
  const [moving, setMoving] = useState<Moving | null>(null);
  const { run, problems, busy, clear } = useDo();
  const put = useCallback(
    (next: Moving | null) => {
      clear();
      setMoving(next);
    },
    [clear],
  );
  const keep = useCallback(async () => {
    if (moving === null) return;
    const to = addDays(moving.on, moving.days);
    const did = await run(moveInseminationDay, { on: moving.on, to });
    if ('problems' in did) return;
    setMoving(null);
    tell(say('season.moved-to', { day: dayWords(to, today()) }));
  }, [moving, run]);
  const press = useCallback(() => void keep(), [keep]);
  useMoveKeys(moving, put, press);
  if (answer.days.length === 0) return null;
  return (
    <>
      <Problems problems={problems} title={say('move.refused')} />
      <InseminationDays days={answer.days} moving={moving} onMoving={put} onKeep={press} busy={busy} />
      <SeasonLanes {...answer} moving={moving} onMoving={put} />
      <RaisingTable raising={answer.raising} />
    </>
  );
}

/** The season of many crosses: what each wishes for, what is scarce, the days proposed, how sure they are, and how to mend them. */
export function SeasonPage() {
  const navigate = useNavigate();
  const page = useAsk(seasonPlan, { today: today() });
  const days = useAsk(seasonDays, { today: today() });
  useKeys(useMemo(() => ({ N: () => void navigate({ to: '/crosses/new' }) }), [navigate]));
  return (
    <section className="stack season">
      <h1>{say('place.rearing')}</h1>
      <RearingNav />
      <Asked query={page}>
        {(answer) =>
          answer.season === null ? (
            <>
              <BeginSeason span={answer.span} crosses={answer.crosses.length} />
              <Asked query={days}>{(its) => <Days answer={its} />}</Asked>
            </>
          ) : (
            <>
              <Propose page={answer} />
              <Asked query={days}>{(its) => <Days answer={its} />}</Asked>
              <WishesTable crosses={answer.crosses} />
              <div className="two-columns">
                <Limits season={answer.season} />
                <div className="stack">
                  <DaysOff daysOff={answer.daysOff} />
                  <Weighed season={answer.season} />
                  <TimesThatHold {...answer} />
                </div>
              </div>
            </>
          )
        }
      </Asked>
    </section>
  );
}
