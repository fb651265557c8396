import { useState } from 'react';
import type { ToKeep } from '#compute/worth.ts';
import type { PairChoice, TraitChoice, WorthChoices } from '#domain/worth/choices.ts';
import type { EvaluationProblem } from '#domain/worth/evaluation-input.ts';
import { BASE_RELATIONSHIP } from '#domain/worth/published.ts';
import type { EstimatedVariances } from '#domain/worth/variances/estimate.ts';
import { say, sayAny } from '#words/say.ts';
import { useWork } from '../../link/computed.ts';
import { ChoiceField } from '../../parts/form.tsx';
import { sayHere } from '../../parts/problems.tsx';
import { EstimatedRuns } from './estimated-runs.tsx';
import { SEED, useKeeping } from './keeping.ts';
import { theStock } from './sources.ts';

type EstimateProps = {
  choices: WorthChoices;
  onChoices: (choices: WorthChoices) => void;
};

type Numbers = Pick<EstimatedVariances, 'G' | 'R' | 'traits'>;

/** Heritabilities and spread of one trait out of an estimate. */
function traitOf({ G, R }: Numbers, s: number): Pick<TraitChoice, 'worker' | 'queen' | 'correlation' | 'spread'> {
  const g = (i: number, j: number) => G[2 * s + i]?.[2 * s + j] ?? 0;
  const [w, mixed, q, e] = [g(0, 0), g(0, 1), g(1, 1), R[s]?.[s] ?? 0];
  const all = BASE_RELATIONSHIP * w + mixed + q + e;
  return {
    worker: (BASE_RELATIONSHIP * w) / all,
    queen: q / all,
    correlation: mixed / Math.sqrt(w * q),
    spread: Math.sqrt(all),
  };
}

/** Correlations of two traits out of an estimate of several together. */
function pairOf({ G, R, traits }: Numbers, a: number, b: number): PairChoice {
  const correlation = (matrix: readonly (readonly number[])[], i: number, j: number) =>
    (matrix[i]?.[j] ?? 0) / Math.sqrt((matrix[i]?.[i] ?? 1) * (matrix[j]?.[j] ?? 1));
  return {
    first: traits[a] ?? '',
    second: traits[b] ?? '',
    worker: correlation(G, 2 * a, 2 * b),
    queen: correlation(G, 2 * a + 1, 2 * b + 1),
    workerQueen: correlation(G, 2 * a, 2 * b + 1),
    queenWorker: correlation(G, 2 * a + 1, 2 * b),
    residual: correlation(R, a, b),
    from: 'estimated',
  };
}

/** The choices with an estimate taken as true. */
export function withEstimate(choices: WorthChoices, found: Numbers): WorthChoices {
  const { traits } = found;
  const estimated = traits.flatMap((_, a) => traits.slice(a + 1).map((_other, k) => pairOf(found, a, a + 1 + k)));
  const others = (choices.pairs ?? []).filter(
    ({ first, second }) => !(traits.includes(first) && traits.includes(second)),
  );
  return {
    ...choices,
    traits: choices.traits.map((choice) => {
      const s = traits.indexOf(choice.trait);
      return s < 0 ? choice : { ...choice, ...traitOf(found, s), from: 'estimated' };
    }),
    ...(traits.length < 2 ? {} : { pairs: [...others, ...estimated] }),
  };
}

type How = 'single' | 'together';

/** Estimates from one’s own records, trait by trait or together; each is kept with its provenance, and what the records cannot carry is refused with its reasons. */
export function Estimate({ choices, onChoices }: EstimateProps) {
  const work = useWork();
  const keep = useKeeping();
  const [how, setHow] = useState<How>('single');
  const [verdict, setVerdict] = useState<'usable' | 'refused' | 'stopped' | null>(null);
  const [problems, setProblems] = useState<readonly EvaluationProblem[]>([]);
  const estimate = async () => {
    let next = choices;
    let isAllUsable = true;
    setProblems([]);
    setVerdict(null);
    const sets = how === 'together' ? [choices.traits] : choices.traits.map((choice) => [choice]);
    for (const traits of sets) {
      const asked = { ...choices, traits };
      const worked = await work.run<
        (ToKeep & { answer: EstimatedVariances }) | { problems: readonly EvaluationProblem[] }
      >('stock-variances', { choices: asked, seed: SEED }, { brings: theStock() });
      if (worked === null) return setVerdict(work.isStopped() ? 'stopped' : null);
      if ('problems' in worked) return setProblems(worked.problems);
      await keep('variances', worked);
      if (worked.answer.usable) next = withEstimate(next, worked.answer);
      else isAllUsable = false;
    }
    setVerdict(isAllUsable ? 'usable' : 'refused');
    onChoices(next);
  };
  return (
    <section className="stack tight" aria-labelledby="worth-estimate">
      <h3 id="worth-estimate">{say('worth.estimates')}</h3>
      {choices.traits.length < 2 ? null : (
        <ChoiceField
          label={say('worth.estimate-how')}
          value={how}
          onChange={setHow}
          choices={(['single', 'together'] as const).map((value) => ({
            value,
            words: sayAny(`worth.estimate-how.${value}`),
          }))}
        />
      )}
      <div className="cluster">
        <button
          type="button"
          className="button"
          onClick={() => void estimate()}
          disabled={work.progress !== null || choices.traits.length === 0}
        >
          {say('worth.estimate')}
        </button>
        {work.progress === null ? null : (
          <>
            <progress value={work.progress[0]} max={work.progress[1]} aria-label={say('worth.estimate')} />
            <button type="button" className="button" onClick={work.stop}>
              {say('worth.stop')}
            </button>
          </>
        )}
      </div>
      <div role="status">
        {verdict === null ? null : <p>{sayAny(`worth.estimate-${verdict}`)}</p>}
        {problems.map((problem) => (
          <p key={`${problem.code} ${problem.path}`} className="doubtful">
            {sayHere(problem)}
          </p>
        ))}
      </div>
      <EstimatedRuns
        onTake={(found) => onChoices(withEstimate(choices, found))}
        chosen={choices.traits.map(({ trait }) => trait)}
      />
    </section>
  );
}
