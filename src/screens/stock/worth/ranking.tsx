import { useMemo } from 'react';
import type { ReliabilityKind } from '#domain/worth/breeding-values.ts';
import type { Ranked, RankedStock } from '#domain/worth/ranking.ts';
import { say } from '#words/say.ts';
import { Code } from '../../parts/identity-band.tsx';
import { QueenMark } from '../../parts/queen-mark.tsx';
import { differenceFigure, differenceWords, figuresWords, reliabilityFigure, spreadFigure } from './worth-words.ts';

/** Where values lie across the track, in hundredths. */
function trackOf({ low, high }: Pick<RankedStock, 'low' | 'high'>): (value: number) => number {
  const pad = (high - low) / 40 || 1;
  return (value) => (100 * (value - low + pad)) / (high - low + 2 * pad);
}

function Track({ worth, before, at }: Pick<Ranked, 'worth' | 'before'> & { at: (value: number) => number }) {
  const { value, error } = worth;
  const left = at(value - (error ?? 0));
  return (
    <span className="track" aria-hidden="true">
      <span className="zero" style={{ left: `${at(0)}%` }} />
      {error === null ? null : (
        <span className="reach" style={{ left: `${left}%`, width: `${at(value + error) - left}%` }} />
      )}
      {before === null ? null : <span className="ghost" style={{ left: `${at(before)}%` }} />}
      <span className="dot" style={{ left: `${at(value)}%` }} />
    </span>
  );
}

const FEWEST = 5;
/** Queens shown at first, and with every press: all where they are few enough to be drawn at once. */
export const SHOWN = 60;
const AT_ONCE = 500;

type RankingProps = {
  ranked: RankedStock;
  /** A new order is on its way. */
  isBusy: boolean;
  /** How the reliabilities were worked out. */
  kind: ReliabilityKind;
  base: string;
  opened: string | null;
  onOpen: (queen: string) => void;
  onMore: (most: number) => void;
};

/** The queens as dots with their spread, best first; pressing one opens what it rests on. */
export function Ranking({ ranked, isBusy, kind, base, opened, onOpen, onMore }: RankingProps) {
  const { seen, queens, best } = ranked;
  const at = useMemo(() => trackOf(ranked), [ranked]);
  const more = Math.min(AT_ONCE, queens - best.length);
  return (
    <section className="stack tight" aria-labelledby="ranking" aria-busy={isBusy}>
      <h2 id="ranking">{say('worth.ranking')}</h2>
      <p>
        <strong>
          {queens < FEWEST
            ? say('worth.ranking-few')
            : say('worth.ranking-title', { code: best[0]?.queen.code ?? '', n: ranked.asGood })}
        </strong>
      </p>
      <p className="note">
        {say('worth.ranking-summary', { base })} {figuresWords(seen)}
      </p>
      <ol className="ranking">
        {best.map(({ queen, face, worth, before }) => (
          <li key={queen.id}>
            <button
              type="button"
              className="ranked"
              aria-expanded={queen.id === opened}
              aria-label={say('worth.open', {
                code: queen.code,
                value: differenceWords(seen, worth.value),
                reliability: reliabilityFigure(worth.reliability, kind),
              })}
              onClick={() => onOpen(queen.id)}
            >
              <span className="who">
                {face === null ? null : <QueenMark year={face.year} mark={face.mark} />}
                <Code>{queen.code}</Code>
              </span>
              <Track worth={worth} before={before} at={at} />
              <span className="figures">
                {worth.error === null
                  ? differenceFigure(seen, worth.value)
                  : say('worth.value', {
                      value: differenceFigure(seen, worth.value),
                      error: spreadFigure(seen, worth.error),
                    })}
              </span>
              <span className="note">{reliabilityFigure(worth.reliability, kind)}</span>
            </button>
          </li>
        ))}
      </ol>
      {more === 0 ? null : (
        <button type="button" className="button" onClick={() => onMore(best.length + more)}>
          {best.length + more === queens ? say('stock.show-all') : say('worth.show-more', { n: more })}
        </button>
      )}
    </section>
  );
}
