import { Link, useParams } from '@tanstack/react-router';
import { useMemo } from 'react';
import { type QueenLeaf, queenLeaf } from '#questions/stock/queen-leaf.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { droneWords, figure } from '#words/queen-words.ts';
import { say, sayAny } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { calledOf, IdentityBand } from '../parts/identity-band.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { useKeys } from '../shell/keys.ts';
import { Assumptions } from './assumptions.tsx';
import { Acts } from './leaf/acts.tsx';
import { DescentBracket } from './leaf/descent-bracket.tsx';
import { KinshipBox } from './leaf/kinship-box.tsx';
import { Photos } from './leaf/photos.tsx';
import { Relations } from './leaf/relations.tsx';
import { Story } from './leaf/story.tsx';
import { StockNav } from './stock-nav.tsx';
import { emergedWords } from './stock-words.tsx';

/** "died 3 Aug 2027", "lost between 12 Aug 2026 and 3 Apr 2027". */
function stateWords({ end, row }: QueenLeaf): string {
  if (end === null) return sayAny(`living.${row.living}`);
  const what = sayAny(`story.fate.${end.kind}`);
  if (end.from === null) return what;
  if (end.to === null || end.to === end.from) return say('leaf.ended', { what, day: shortDay(end.from) });
  return say('leaf.ended-between', { what, from: shortDay(end.from), to: shortDay(end.to) });
}

function Fact({ name, children }: { name: string; children: string | null }) {
  if (children === null) return null;
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** What holds of her now, in pairs of a word and a fact. */
function Now({ leaf }: { leaf: QueenLeaf }) {
  const { row, inbreeding } = leaf;
  return (
    <dl className="now">
      <Fact name={say('stock.stage')}>{row.stage === 'not-known' ? null : sayAny(`stage.${row.stage}`)}</Fact>
      <Fact name={say('stock.emerged')}>{emergedWords(row)}</Fact>
      <Fact name={say('leaf.carries')}>
        {row.droneSide === null ? say('leaf.carries-nothing') : droneWords(row.droneSide)}
      </Fact>
      <Fact name={say('leaf.own-inbreeding')}>{inbreeding.own === null ? null : figure(inbreeding.own, 3)}</Fact>
      <Fact name={say('leaf.brood-inbreeding')}>{inbreeding.brood === null ? null : figure(inbreeding.brood, 3)}</Fact>
      <Fact name={say('leaf.last-seen')}>
        {row.lastSeen === null ? say('leaf.never-seen') : shortDay(row.lastSeen)}
      </Fact>
      <Fact name={say('leaf.former-codes')}>{leaf.formerCodes.length === 0 ? null : leaf.formerCodes.join(', ')}</Fact>
      <Fact name={say('leaf.lent-to')}>{leaf.lentTo}</Fact>
      <Fact name={say('leaf.owner')}>{leaf.owner}</Fact>
    </dl>
  );
}

function Worries({ leaf }: { leaf: QueenLeaf }) {
  if (leaf.worries.length === 0) return null;
  return (
    <div className="problems">
      <h2>{say('leaf.worries', { n: leaf.worries.length })}</h2>
      <ul>
        {leaf.worries.map(({ id, code, said }) => (
          <li key={id}>{sayAny(`problem.${code}`, JSON.parse(said) as Record<string, string>)}</li>
        ))}
      </ul>
    </div>
  );
}

function Leaf({ leaf }: { leaf: QueenLeaf }) {
  const { row } = leaf;
  const card = withInput('/api/paper/queen-card', { queen: row.id, today: today() });
  useKeys(useMemo(() => ({ P: () => window.open(card) }), [card]));
  const photo = leaf.photos[0];
  return (
    <article className="stack wide queen-leaf">
      <IdentityBand
        queen={row}
        state={stateWords(leaf)}
        photo={photo === undefined ? undefined : `/api/photo/${photo.hash}`}
      />
      <Worries leaf={leaf} />
      <section className="stack" aria-labelledby="now">
        <h2 id="now">{say('leaf.now')}</h2>
        <Now leaf={leaf} />
        <Acts leaf={leaf} />
      </section>
      <section className="stack" aria-labelledby="descent">
        <h2 id="descent">{say('leaf.descent')}</h2>
        <DescentBracket descent={leaf.descent} faces={leaf.faces} />
        <Assumptions assumptions={leaf.inbreeding.assumptions} />
      </section>
      <div className="two-columns">
        <section className="stack" aria-labelledby="story">
          <h2 id="story">{say('leaf.story')}</h2>
          <Story events={leaf.story} />
          <Link to="/history/$record" params={{ record: row.id }}>
            {say('history.of-record')}
          </Link>
        </section>
        <section className="stack" aria-labelledby="kinship">
          <h2 id="kinship">{say('leaf.kinship')}</h2>
          <KinshipBox queen={row.id as RecordId} />
        </section>
      </div>
      <section className="stack" aria-labelledby="relations">
        <h2 id="relations">{say('leaf.relations')}</h2>
        <Relations leaf={leaf} />
      </section>
      <div className="two-columns">
        <section className="stack" aria-labelledby="photos">
          <h2 id="photos">{say('leaf.photos')}</h2>
          <Photos about={row.id as RecordId} code={calledOf(row)} photos={leaf.photos} />
        </section>
        <section className="stack" aria-labelledby="papers">
          <h2 id="papers">{say('leaf.papers')}</h2>
          <p>
            <a href={card} target="_blank" rel="noreferrer" className="button">
              {say('leaf.card')} <kbd>P</kbd>
            </a>
          </p>
        </section>
      </div>
    </article>
  );
}

/** The leaf of one queen: who she is, what holds now, what can be done, her descent, story, kinship, relations, papers. */
export function QueenLeafPage() {
  const { id } = useParams({ strict: false }) as { id: string };
  const query = useAsk(queenLeaf, { queen: id as RecordId, today: today() });
  return (
    <div className="stack">
      <StockNav />
      <Asked query={query}>{(leaf) => (leaf === null ? <NoPage /> : <Leaf leaf={leaf} key={leaf.row.id} />)}</Asked>
    </div>
  );
}
