import { useMemo, useState } from 'react';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { ruleOf } from '#domain/scoring/trait.ts';
import type { ReliabilityKind } from '#domain/worth/breeding-values.ts';
import type { Criterion } from '#domain/worth/criteria.ts';
import type { EvaluatedQueen, Worth } from '#domain/worth/evaluation.ts';
import type { Change } from '#domain/worth/what-changed.ts';
import { say } from '#words/say.ts';
import { Code } from '../../parts/identity-band.tsx';
import { QueenMark } from '../../parts/queen-mark.tsx';
import { differenceFigure, differenceWords, reliabilityFigure, type Seen, spreadFigure } from './worth-words.ts';

/** A queen in the ranking: her worth in the unit it is shown in, and where it lay in the run before. */
export type Ranked = { queen: EvaluatedQueen; face: QueenFace | null; worth: Worth; before: number | null };

export type RankedBy = { seen: Seen; criterion: Criterion };

/** Worth in the trait’s own unit. */
export const inUnits = ({ value, error, reliability }: Worth, units: number): Worth => ({
  value: value * units,
  error: error === null ? null : error * units,
  reliability,
});

/** Queens with a worth, best first: most, or least where less is better. */
export function rankedOf(
  queens: readonly EvaluatedQueen[],
  by: RankedBy,
  { faces, units, changes }: { faces: Readonly<Record<string, QueenFace>>; units: number; changes: readonly Change[] },
): Ranked[] {
  const turn = by.seen !== null && ruleOf(by.seen).better === 'less' ? -1 : 1;
  const before = new Map(changes.map(({ queen, from }) => [queen, from]));
  return queens
    .flatMap((queen) => {
      const worth = (by.seen === null ? queen.index : queen.worth[by.seen])?.[by.criterion];
      const from = before.get(queen.id) ?? null;
      const told = { queen, face: faces[queen.id] ?? null, before: from === null ? null : from * units };
      return worth === undefined ? [] : [{ ...told, worth: inUnits(worth, units) }];
    })
    .sort((a, b) => turn * (b.worth.value - a.worth.value));
}

/** Where values lie across the track, in hundredths. */
function trackOf(ranked: readonly Ranked[]): (value: number) => number {
  let [low, high] = [0, 0];
  for (const {
    worth: { value, error },
    before,
  } of ranked) {
    low = Math.min(low, value - (error ?? 0), before ?? 0);
    high = Math.max(high, value + (error ?? 0), before ?? 0);
  }
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

/** How many others are as good as the first within the spread of the difference, the two taken as independent. */
function asGood([first, ...others]: readonly Ranked[]): number {
  if (first === undefined) return 0;
  return others.filter(({ worth }) => {
    const apart = Math.abs(first.worth.value - worth.value);
    return apart < Math.hypot(first.worth.error ?? 0, worth.error ?? 0);
  }).length;
}

const FEWEST = 5;
const SHOWN = 60;

type RankingProps = {
  ranked: readonly Ranked[];
  seen: Seen;
  /** How the reliabilities were worked out. */
  kind: ReliabilityKind;
  base: string;
  opened: string | null;
  onOpen: (queen: string) => void;
};

/** The queens as dots with their spread, best first; pressing one opens what it rests on. */
export function Ranking({ ranked, seen, kind, base, opened, onOpen }: RankingProps) {
  const [all, setAll] = useState(false);
  const at = useMemo(() => trackOf(ranked), [ranked]);
  const shown = all ? ranked : ranked.slice(0, SHOWN);
  const first = ranked[0]?.queen.code ?? '';
  return (
    <section className="stack tight" aria-labelledby="ranking">
      <h2 id="ranking">{say('worth.ranking')}</h2>
      <p>
        <strong>
          {ranked.length < FEWEST
            ? say('worth.ranking-few')
            : say('worth.ranking-title', { code: first, n: asGood(ranked) })}
        </strong>
      </p>
      <p className="note">{say('worth.ranking-summary', { base })}</p>
      <ol className="ranking">
        {shown.map(({ queen, face, worth, before }) => (
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
      {shown.length === ranked.length ? null : (
        <button type="button" className="button" onClick={() => setAll(true)}>
          {say('stock.show-all')}
        </button>
      )}
    </section>
  );
}
