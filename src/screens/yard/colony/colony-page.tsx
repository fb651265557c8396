import { Link, useParams } from '@tanstack/react-router';
import { type ColonyLeaf, colony } from '#questions/yard/colony.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords, shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { Code } from '../../parts/identity-band.tsx';
import { NoPage } from '../../parts/no-page.tsx';
import { QueenLink } from '../../stock/queen-link.tsx';
import { Caution } from '../cautions.tsx';
import { YardNav } from '../yard-nav.tsx';
import { daySpanWords, lookWords, nextWords } from '../yard-words.ts';
import { ColonyActs } from './colony-acts.tsx';

/** The band of a colony: its number, what it is, where it stands, who heads it. */
function Band({ leaf: { nuc, ended } }: { leaf: ColonyLeaf }) {
  return (
    <header className="identity">
      <h1>
        <Code>{nuc.code}</Code>
      </h1>
      <div className="facts">
        <span>{sayAny(`colony.form.${nuc.form}`)}</span>
        <span>{nuc.yard?.name ?? say('yard.no-yard')}</span>
        {nuc.spot === null ? null : (
          <span>
            {say('colony.spot')} {nuc.spot}
          </span>
        )}
        {ended === null ? null : (
          <span className="state">
            ◌{' '}
            {say('colony.ended-on', { how: sayAny(`colony.end.${ended.how ?? 'dissolved'}`), day: shortDay(ended.on) })}{' '}
            {ended.into === null ? null : (
              <Link to="/yard/colony/$id" params={{ id: ended.into.id }}>
                {say('colony.ended-into', { code: ended.into.code })}
              </Link>
            )}
          </span>
        )}
      </div>
    </header>
  );
}

function Now({ leaf: { nuc, unitedFrom } }: { leaf: ColonyLeaf }) {
  const { head, headSince, inseminated, lastLook, next } = nuc;
  return (
    <dl className="now">
      <div>
        <dt>{say('colony.queen')}</dt>
        <dd>
          {head === null ? say('colony.no-queen') : <QueenLink queen={head} />}{' '}
          {head === null || headSince === null ? null : say('colony.heads-since', { day: shortDay(headSince) })}
        </dd>
      </div>
      {inseminated === null ? null : (
        <div>
          <dt>{say('colony.next')}</dt>
          <dd>
            {nextWords(next)} <span className="soft">({say('colony.day-since', { days: inseminated.days })})</span>
          </dd>
        </div>
      )}
      <div>
        <dt>{say('colony.last')}</dt>
        <dd>
          {lastLook === null ? say('colony.no-looks') : `${lookWords(lastLook)}, ${dayWords(lastLook.day, today())}`}
        </dd>
      </div>
      {unitedFrom.map(({ id, code, on }) => (
        <div key={id}>
          <dt>{say('colony.end.united')}</dt>
          <dd>
            <Link to="/yard/colony/$id" params={{ id }}>
              {say('colony.united-from', { code, day: on === null ? '–' : shortDay(on) })}
            </Link>
          </dd>
        </div>
      ))}
    </dl>
  );
}

function Looks({ looks }: Pick<ColonyLeaf, 'looks'>) {
  if (looks.length === 0) return <p className="soft">{say('colony.no-looks')}</p>;
  return (
    <ul className="story yard-story">
      {looks.map((look) => (
        <li key={look.id}>
          <span className="when">{shortDay(look.day)}</span>
          <span className="what">
            {lookWords(look)}
            {look.words.map((words) => (
              <span className="note" key={words}>
                {' '}
                “{words}”
              </span>
            ))}
          </span>
          <span>{look.queen === null ? null : <QueenLink queen={look.queen} />}</span>
        </li>
      ))}
    </ul>
  );
}

function Reigns({ reigns }: Pick<ColonyLeaf, 'reigns'>) {
  if (reigns.length === 0) return <p className="soft">{say('colony.no-reigns')}</p>;
  return (
    <ul className="story yard-story">
      {reigns.map(({ queen, role, from, to }) => (
        <li key={`${queen?.id} ${from?.earliest} ${to?.latest}`}>
          <span className="when">{from === null ? say('colony.unknown-start') : daySpanWords(from)}</span>
          <span className="what">
            {sayAny(`colony.role.${role}`)}, {to === null ? say('colony.still') : daySpanWords(to)}
          </span>
          <span>{queen === null ? null : <QueenLink queen={queen} />}</span>
        </li>
      ))}
    </ul>
  );
}

function Places({ places }: Pick<ColonyLeaf, 'places'>) {
  if (places.length === 0) return <p className="soft">{say('colony.no-places')}</p>;
  return (
    <ul className="story yard-story">
      {places.map(({ yard, from, to }) => (
        <li key={`${yard} ${from}`}>
          <span className="when">{from === null ? say('colony.unknown-start') : shortDay(from)}</span>
          <span className="what">{yard}</span>
          <span>{to === null ? say('colony.still') : shortDay(to)}</span>
        </li>
      ))}
    </ul>
  );
}

const traitWords = (trait: string): string => {
  const words = sayAny(`trait.${trait}`);
  return words.startsWith('[') ? trait : words;
};

function Scores({ scores }: Pick<ColonyLeaf, 'scores'>) {
  if (scores.length === 0) return <p className="soft">{say('colony.no-scores')}</p>;
  return (
    <ul className="story yard-story">
      {scores.map(({ id, day, trait, value, unit, person, hers }) => (
        <li key={id}>
          <span className="when">{shortDay(day)}</span>
          <span className="what">
            {traitWords(trait)} {value} {unit} <span className="soft">{person}</span>
          </span>
          <span>
            {hers === null ? <span className="soft">{say('colony.nobodys')}</span> : <QueenLink queen={hers} />}
          </span>
        </li>
      ))}
    </ul>
  );
}

function Leaf({ leaf }: { leaf: ColonyLeaf }) {
  return (
    <article className="stack wide queen-leaf">
      <Band leaf={leaf} />
      <section className="stack" aria-labelledby="now">
        <h2 id="now">{say('colony.now')}</h2>
        <Now leaf={leaf} />
      </section>
      {leaf.ended === null ? (
        <section className="stack" aria-labelledby="acts">
          <h2 id="acts">{say('colony.acts')}</h2>
          <ColonyActs leaf={leaf} />
        </section>
      ) : null}
      <div className="two-columns">
        <section className="stack" aria-labelledby="looks">
          <h2 id="looks">{say('colony.looks')}</h2>
          <Looks looks={leaf.looks} />
        </section>
        <section className="stack" aria-labelledby="reigns">
          <h2 id="reigns">{say('colony.reigns')}</h2>
          <Reigns reigns={leaf.reigns} />
        </section>
        <section className="stack" aria-labelledby="scores">
          <h2 id="scores">{say('colony.scores')}</h2>
          <Scores scores={leaf.scores} />
        </section>
        <section className="stack" aria-labelledby="places">
          <h2 id="places">{say('colony.places')}</h2>
          <Places places={leaf.places} />
          <Link to="/history/$record" params={{ record: leaf.nuc.id }}>
            {say('colony.history')}
          </Link>
        </section>
      </div>
      <Caution of="moving" />
    </article>
  );
}

/** A colony's leaf: who heads it, what was seen, its story, and what can be done. */
export function ColonyPage() {
  const { id } = useParams({ strict: false }) as { id: string };
  const query = useAsk(colony, { colony: id as RecordId, today: today() });
  return (
    <div className="stack">
      <YardNav />
      <Asked query={query}>{({ leaf }) => (leaf === null ? <NoPage /> : <Leaf leaf={leaf} key={leaf.nuc.id} />)}</Asked>
    </div>
  );
}
