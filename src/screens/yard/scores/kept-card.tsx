import { useState } from 'react';
import type { LastScore, ScoredNuc, TodaysReading } from '#questions/yard/score-cards.ts';
import { shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { calledOf } from '../../parts/identity-band.tsx';
import { readingWords, traitName, valueWords } from './traits.ts';
import { Judge, whoseWords } from './whose.tsx';

function keptWords({ trait, value, range, notJudged }: TodaysReading): string {
  if (notJudged !== null) return `${say('score.not-judged')}: ${sayAny(`score.why.${notJudged}`)}`;
  return value === null ? say('score.test-begun') : readingWords(trait, { value, range });
}

const beforeWords = (last: LastScore | undefined): string =>
  last === undefined
    ? say('score.none-before')
    : say('score.last', { value: valueWords(last.trait, last.value), day: shortDay(last.day) });

/** What was kept of a colony today, beside what was read before: only now, so that nobody copies it; and whose result it is. */
export function KeptCard({ nuc, onAgain }: { nuc: ScoredNuc; onAgain: () => void }) {
  const [judging, setJudging] = useState(false);
  const first = nuc.today.find(({ notJudged }) => notJudged === null);
  const code = nuc.head === null ? '' : calledOf(nuc.head);
  return (
    <section className="stack tight kept-card" aria-label={say('score.kept-title', { code: nuc.code })}>
      <h2>{say('score.kept-title', { code: nuc.code })}</h2>
      <table className="book">
        <tbody>
          {nuc.today.map((reading) => (
            <tr key={reading.id}>
              <th scope="row">{traitName(reading.trait)}</th>
              <td>
                <strong>{keptWords(reading)}</strong>
              </td>
              <td className="soft">
                {say('score.before')}: {beforeWords(nuc.last.find(({ trait }) => trait === reading.trait))}
              </td>
            </tr>
          ))}
          {nuc.open
            .filter(({ begun }) => begun === today())
            .map(({ id, trait }) => (
              <tr key={id}>
                <th scope="row">{traitName(trait)}</th>
                <td>
                  <strong>{say('score.test-begun')}</strong>
                </td>
                <td />
              </tr>
            ))}
        </tbody>
      </table>
      {first === undefined ? null : (
        <p className={first.hers === 'wholly' ? 'whose' : 'whose late'}>
          {whoseWords({ ...first, code, countsFrom: nuc.belongs.countsFrom, on: today() })}
        </p>
      )}
      <div className="cluster">
        <button type="button" className="button round-button" onClick={onAgain}>
          {say('score.again')}
        </button>
        {first === undefined ? null : (
          <button
            type="button"
            className="button round-button"
            aria-expanded={judging}
            onClick={() => setJudging((was) => !was)}
          >
            {say('score.judge')}
          </button>
        )}
      </div>
      {judging ? (
        <>
          <p className="note">{say('score.rule-why')}</p>
          <Judge readings={nuc.today.filter(({ notJudged }) => notJudged === null)} />
        </>
      ) : null}
    </section>
  );
}
