import { Link } from '@tanstack/react-router';
import type { ShownDay, ShownLink } from '#questions/rearing/season/season-days.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { DotQuantiles } from '../../parts/dot-quantiles.tsx';
import { DayRepairs } from './day-repairs.tsx';
import { listWords, timesOfTwenty } from './season-words.ts';

/** A day that is being moved and not kept yet. */
export type Moving = { on: Day; days: number };

type MoveProps = {
  moving: Moving | null;
  onMoving: (moving: Moving | null) => void;
  onKeep: () => void;
  busy: boolean;
};

const inUnit =
  ({ side }: ShownLink) =>
  (value: number) =>
    side === 'queens' ? say('rearing.queens', { n: Math.round(value) }) : `${figure(value, 0)} µl`;

const enoughWords = ({ dots, wanted }: ShownLink) =>
  say('many.of-twenty', { enough: dots.filter((value) => value >= wanted).length, of: dots.length });

/** One thing that must suffice: how many are wanted and may come, as twenty seasons. */
function LinkShown({ link, isWeakest }: { link: ShownLink; isWeakest: boolean }) {
  const words = inUnit(link);
  return (
    <li className={isWeakest ? 'link weakest' : 'link'}>
      <span>
        <strong>{say(`season.link-${link.side}`, { mother: link.name })}</strong>{' '}
        {isWeakest ? <span className="gives-first">{say('season.gives-first')}</span> : null}
      </span>
      {link.dots.every((value) => value === 0) ? (
        <p className="note">{say('season.none-in-time', { needed: words(link.wanted) })}</p>
      ) : (
        <DotQuantiles dots={link.dots} needed={link.wanted} words={words} told={enoughWords(link)} />
      )}
    </li>
  );
}

function MoveDay({ on, moving, onMoving, onKeep, busy }: MoveProps & { on: Day }) {
  const days = moving?.on === on ? moving.days : 0;
  const step = (by: number) => onMoving(days + by === 0 ? null : { on, days: days + by });
  const day = dayWords(on, today());
  return (
    <span className="move-day">
      <button
        type="button"
        className="button step"
        aria-label={say('season.day-earlier', { day })}
        onClick={() => step(-1)}
      >
        ‹
      </button>
      <button
        type="button"
        className="button step"
        aria-label={say('season.day-later', { day })}
        onClick={() => step(1)}
      >
        ›
      </button>
      {days === 0 ? null : (
        <span className="cluster" role="status">
          <span className="ghost-day">{say('move.to', { day: dayWords(addDays(on, days), today()) })}</span>
          <button type="button" className="button main" aria-disabled={busy} onClick={onKeep}>
            {say('season.keep-move')} <kbd>Enter</kbd>
          </button>
          <button type="button" className="button" onClick={() => onMoving(null)}>
            {say('move.leave')} <kbd>Esc</kbd>
          </button>
        </span>
      )}
    </span>
  );
}

/** What should be there by now and was not written down, and the way to write it down. */
function Overdue({ overdue }: Pick<ShownDay, 'overdue'>) {
  const what = overdue.map(({ side, mother, planned }) =>
    say(`season.overdue-${side}`, { mother, day: dayWords(planned, today()) }),
  );
  const has = (side: 'queens' | 'drones') => overdue.some((one) => one.side === side);
  return (
    <div className="problem stack tight">
      <p>{say('season.overdue', { what: listWords(what) })}</p>
      <p className="cluster">
        {has('drones') ? <Link to="/rearing/comb/new">{say('task-door.new-comb')}</Link> : null}
        {has('queens') ? <Link to="/rearing/graft/new">{say('task-door.new-bar')}</Link> : null}
        <Link to="/today">{say('place.today')}</Link>
      </p>
    </div>
  );
}

/** Readiness below this is worth a repair: the chance every link was planned with, less what is told to one in twenty. */
const IN_DOUBT = 0.88;

function DayCard({ day, ...move }: MoveProps & { day: ShownDay }) {
  const { on, crosses, chance, links, weakest, missing, overdue, asPlanned } = day;
  const inDoubt = missing.length === 0 && links.some((link) => link.chance < IN_DOUBT);
  const left = daysBetween(today(), on);
  return (
    <li className="sheet day-card stack tight">
      <div className="spread">
        <h3>
          {dayWords(on, today())} <span className="soft">{say('cross.in-days', { n: left })}</span>
        </h3>
        <MoveDay on={on} {...move} />
      </div>
      <p className="cluster">
        {crosses.map(({ id, code, queens }) => (
          <Link key={id} to="/rearing/countback/$cross" params={{ cross: id }}>
            {say('season.cross-queens', { code, n: queens })}
          </Link>
        ))}
      </p>
      {missing.length > 0 ? (
        <p className="problem">{say('season.nothing-raised', { mothers: missing.join(', ') })}</p>
      ) : (
        <>
          <p className={inDoubt ? 'readiness in-doubt' : 'readiness'}>
            <strong>{say('season.sure', { seasons: timesOfTwenty(chance) })}</strong>{' '}
            {asPlanned === null ? null : say('season.if-done', { seasons: timesOfTwenty(asPlanned) })}
          </p>
          {overdue.length === 0 ? null : <Overdue overdue={overdue} />}
          <ul className="links">
            {links.map((link, i) => (
              <LinkShown key={`${link.side} ${link.mother}`} link={link} isWeakest={i === weakest} />
            ))}
          </ul>
          {inDoubt ? <DayRepairs on={on} /> : null}
        </>
      )}
    </li>
  );
}

/** Every insemination day to come: how sure it is that both sexes suffice, what gives first, and how to mend it. */
export function InseminationDays({ days, ...move }: MoveProps & { days: readonly ShownDay[] }) {
  return (
    <section className="stack tight" aria-labelledby="insemination-days">
      <h2 id="insemination-days">{say('season.days')}</h2>
      <ul className="plain day-cards">
        {days.map((day) => (
          <DayCard key={day.on} day={day} {...move} />
        ))}
      </ul>
    </section>
  );
}
