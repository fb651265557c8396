import '../../style/round.css';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { type ScoredNuc, scoreCards } from '#questions/yard/score-cards.ts';
import { say } from '#words/say.ts';
import { viewing } from '../../bench/board/legibility.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { SelectField } from '../../parts/form.tsx';
import { Code } from '../../parts/identity-band.tsx';
import { StateShape } from '../../parts/state-sign.tsx';
import { QueenLink } from '../../stock/queen-link.tsx';
import { Caution } from '../cautions.tsx';
import { YardNav } from '../yard-nav.tsx';
import { ScoreCard } from './score-card.tsx';
import { traitName } from './traits.ts';

/** This year's means inside one yard, of the colonies whose card of today is kept: nobody copies an earlier score. */
function YearTable({ nucs }: { nucs: readonly ScoredNuc[] }) {
  const kept = nucs.filter(({ todays }) => todays.length > 0);
  if (kept.length === 0) return null;
  return (
    <section className="stack tight" aria-labelledby="year">
      <h2 id="year">{say('score.table')}</h2>
      <p className="note">{say('score.compare')}</p>
      <ul className="walked">
        {kept.map(({ id, code, head, year }) => (
          <li key={id}>
            <Link to="/yard/colony/$id" params={{ id }}>
              <Code>{code}</Code>
            </Link>
            {head === null ? null : <QueenLink queen={head} />}
            <span>
              {year
                .map(({ trait, mean, n }) => `${traitName(trait)} ${say('score.year', { value: mean.toFixed(1), n })}`)
                .join(', ')}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

type Told = { nucs: readonly ScoredNuc[]; people: readonly { id: string; name: string }[] };

function Cards({ nucs, people }: Told) {
  const yards = [...new Map(nucs.flatMap(({ yard }) => (yard === null ? [] : [[yard.id, yard.name] as const])))];
  const [yard, setYard] = useState<string>(yards[0]?.[0] ?? '');
  const [person, setPerson] = useState('');
  const here = nucs.filter((nuc) => nuc.yard?.id === yard);
  const [chosen, setChosen] = useState<string | null>(null);
  const nuc = here.find(({ id }) => id === chosen) ?? here[0];
  const next = () => setChosen(here[here.findIndex(({ id }) => id === nuc?.id) + 1]?.id ?? null);
  return (
    <>
      <div className="form">
        <div className="fields">
          <SelectField
            label={say('colony.yard')}
            value={yard}
            onChange={setYard}
            choices={yards.map(([value, words]) => ({ value: value as string, words }))}
          />
          <SelectField
            label={say('score.by')}
            value={person}
            onChange={setPerson}
            choices={[
              { value: '', words: say('score.nobody') },
              ...people.map(({ id, name }) => ({ value: id, words: name })),
            ]}
          />
        </div>
      </div>
      <div className="two-columns">
        {nuc === undefined ? null : <ScoreCard key={nuc.id} nuc={nuc} person={person} onNext={next} />}
        <section className="stack">
          <ul className="walked">
            {here.map((each) => (
              <li key={each.id}>
                <StateShape sign={each.todays.length > 0 ? 'done' : 'planned'} />
                <button
                  type="button"
                  className="button quiet"
                  aria-current={each.id === nuc?.id ? 'true' : undefined}
                  onClick={() => setChosen(each.id)}
                >
                  <Code>{each.code}</Code>
                </button>
                <span className="soft">{say(each.todays.length > 0 ? 'score.done' : 'score.waits')}</span>
              </li>
            ))}
          </ul>
          <YearTable nucs={here} />
        </section>
      </div>
    </>
  );
}

function Empty() {
  return (
    <section className="empty">
      <p>{say('score.empty')}</p>
      <p>{say('score.empty-act')}</p>
      <Link to="/yard/new-colony" className="button main">
        {say('yard.new-colony')}
      </Link>
    </section>
  );
}

/** Score cards: one colony after the other, trait words with a sentence for each number. */
export function ScoresPage() {
  const query = useAsk(scoreCards, { today: today() });
  return (
    <section className="stack" style={{ '--mm': `${viewing().pixelsPerMillimetre}px` } as React.CSSProperties}>
      <h1>{say('score.title')}</h1>
      <YardNav />
      <p>{say('score.lead')}</p>
      <Asked query={query}>
        {({ nucs, people }) => {
          const scored = nucs.filter(({ head, yard }) => head !== null && yard !== null);
          return scored.length === 0 ? <Empty /> : <Cards nucs={scored} people={people} />;
        }}
      </Asked>
      <Caution of="stings" />
    </section>
  );
}
