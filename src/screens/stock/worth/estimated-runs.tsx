import { useState } from 'react';
import type { Fingerprints } from '#compute/worth.ts';
import { compatibleWith, type EstimatedVariances } from '#domain/worth/variances/estimate.ts';
import type { ProfilePoint } from '#domain/worth/variances/profile.ts';
import { type VarianceRun, varianceRuns } from '#questions/stock/worth-runs.ts';
import { shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { BelowAxis, LeftAxis, Plot, scale, useRoom } from '../../lessons/plot.tsx';
import { useWork } from '../../link/computed.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { SelectField } from '../../parts/form.tsx';
import { ticksBetween } from '../../yard/records/yard-year-plot.tsx';
import { ProvenanceFacts } from './provenance-facts.tsx';
import { inputOfRun } from './sources.ts';
import { traitName } from './worth-words.ts';

const plain = (value: number | null | undefined, digits = 2) => (value == null ? '–' : value.toFixed(digits));

/** A variance with its standard error; `–` where the records say nothing. */
const withError = (value: number | undefined, error: number | null | undefined) =>
  say('worth.estimate-value', {
    value: value === undefined ? '–' : String(Number(value.toPrecision(3))),
    error: error == null ? '–' : String(Number(error.toPrecision(2))),
  });

/** Variances, covariance and heritabilities of every trait, with standard errors. */
function Numbers({ found }: { found: EstimatedVariances }) {
  const { G, R, standardErrors: e, correlations, traits, heritability } = found;
  return (
    <table className="book cards wide estimated">
      <thead>
        <tr>
          <th scope="col">{say('records.trait')}</th>
          {(['worker', 'queen', 'mixed', 'residual', 'parts', 'link'] as const).map((name) => (
            <th key={name} scope="col" className="number">
              {say(`worth.estimate.${name}`)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {traits.map((trait, s) => {
          const h = heritability.traits[trait];
          const [w, q] = [2 * s, 2 * s + 1];
          const cells = [
            [say('worth.estimate.worker'), withError(G[w]?.[w], e.G[w]?.[w])],
            [say('worth.estimate.queen'), withError(G[q]?.[q], e.G[q]?.[q])],
            [say('worth.estimate.mixed'), withError(G[w]?.[q], e.G[w]?.[q])],
            [say('worth.estimate.residual'), withError(R[s]?.[s], e.R[s]?.[s])],
            [say('worth.estimate.parts'), `${plain(h?.worker)} / ${plain(h?.queen)}`],
            [say('worth.estimate.link'), linkWithError(correlations.G[w]?.[q], correlations.standardErrors.G[w]?.[q])],
          ] as const;
          return (
            <tr key={trait}>
              <th scope="row">{traitName(trait)}</th>
              {cells.map(([name, words]) => (
                <td key={name} className="number" data-label={name}>
                  {words}
                </td>
              ))}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** A correlation with its standard error, to two places; `–` where there is none to tell. An error above 1 says that it may be anything. */
const linkWithError = (value: number | null | undefined, error: number | null | undefined) =>
  say('worth.estimate-value', {
    value: plain(value),
    error: error != null && error > 1 ? say('worth.estimate-error-over') : plain(error),
  });

/** What every two traits share: correlations of their effects and of what is left, with standard errors. */
function PairNumbers({ found: { traits, correlations } }: { found: EstimatedVariances }) {
  const pairs = traits.flatMap((first, a) =>
    traits.slice(a + 1).map((second, k) => ({ first, second, a, b: a + 1 + k })),
  );
  if (pairs.length === 0) return null;
  const told = (of: 'G' | 'R', i: number, j: number) =>
    linkWithError(correlations[of][i]?.[j], correlations.standardErrors[of][i]?.[j]);
  return (
    <>
      <h4>{say('worth.pairs')}</h4>
      <table className="book cards wide estimated">
        <thead>
          <tr>
            <th scope="col">{say('worth.pair-which')}</th>
            {(['worker', 'queen', 'crossed', 'crossed-back', 'residual'] as const).map((name) => (
              <th key={name} scope="col" className="number">
                {say(`worth.estimate-pair.${name}`)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {pairs.map(({ first, second, a, b }) => (
            <tr key={`${first} ${second}`}>
              <th scope="row">{say('worth.pair', { first: traitName(first), second: traitName(second) })}</th>
              {(
                [
                  ['worker', told('G', 2 * a, 2 * b)],
                  ['queen', told('G', 2 * a + 1, 2 * b + 1)],
                  ['crossed', told('G', 2 * a, 2 * b + 1)],
                  ['crossed-back', told('G', 2 * a + 1, 2 * b)],
                  ['residual', told('R', a, b)],
                ] as const
              ).map(([name, words]) => (
                <td key={name} className="number" data-label={say(`worth.estimate-pair.${name}`)}>
                  {words}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p className="note">{say('worth.estimate-pair-definition')}</p>
    </>
  );
}

/** How well the records know the correlation of worker and queen effect: the likelihood along it. */
function ProfilePlot({ trait, points }: { trait: string; points: readonly ProfilePoint[] }) {
  const room = useRoom(240);
  const known = compatibleWith(points);
  if (known === null) return null;
  const best = Math.max(...points.map(({ logLikelihood }) => logLikelihood));
  const shown = points.map(({ correlation, logLikelihood }) => ({ x: correlation, y: logLikelihood - best }));
  const low = Math.min(-2.5, ...shown.map(({ y }) => y));
  const x = scale([-1, Math.max(0.7, ...shown.map((one) => one.x))], [room.left, room.right]);
  const y = scale([low, 0], [room.bottom - 8, room.top + 8]);
  const names = { trait: traitName(trait), from: plain(known.from, 1), to: plain(known.to, 1) };
  return (
    <Plot
      title={known.isFlat ? say('worth.profile-flat', names) : say('worth.profile-title', names)}
      summary={say('worth.profile-summary')}
      room={room}
      table={{
        columns: [say('worth.link'), say('worth.profile-below')],
        rows: shown.map((one) => [plain(one.x), plain(one.y)]),
      }}
    >
      <LeftAxis room={room} at={y} values={ticksBetween(low, 0, 4)} words={(value) => plain(value, 1)} />
      <BelowAxis
        room={room}
        at={x}
        values={[-0.8, -0.4, 0, 0.4]}
        words={(value) => plain(value, 1)}
        title={say('worth.link')}
      />
      <path className="usual" d={`M${x(-1)} ${y(-1.92)}H${room.right}`} />
      <path className="line" d={`M${shown.map((one) => `${x(one.x)} ${y(one.y)}`).join('L')}`} />
      {shown.map((one) => (
        <circle key={one.x} className={one.y >= -1.92 ? 'dot full' : 'dot'} cx={x(one.x)} cy={y(one.y)} r="5" />
      ))}
    </Plot>
  );
}

/** How an estimate was worked out, and the proof that it comes out the same again. */
function EstimateProvenance({ run: { line, answer } }: { run: VarianceRun }) {
  const work = useWork();
  const [isSame, setSame] = useState<boolean | null>(null);
  const again = async () => {
    const given = { seed: line.seed };
    const found = await work.run<Fingerprints>('variances-again', given, { brings: inputOfRun(line) });
    if (found !== null)
      setSame(found.fingerprint === line.fingerprint && found.answerFingerprint === line.answer_fingerprint);
  };
  const facts = [
    [say('worth.run-day'), shortDay(line.day)],
    [say('worth.run-version'), say('worth.run-version-is', { version: line.version })],
    [say('worth.run-records'), String(answer.records)],
    [say('worth.run-seed'), String(line.seed)],
    [say('worth.run-input'), line.fingerprint],
    [say('worth.run-answer'), line.answer_fingerprint],
    [say('worth.estimate-likelihood'), plain(answer.logLikelihood, 3)],
  ] as const;
  return (
    <>
      <ProvenanceFacts facts={facts} />
      <div className="cluster">
        <button type="button" className="button" onClick={() => void again()} disabled={work.progress !== null}>
          {say('worth.estimate-check')}
        </button>
        <span role="status">{isSame === null ? '' : say(isSame ? 'worth.run-same' : 'worth.estimate-other')}</span>
      </div>
    </>
  );
}

type RunsProps = { chosen: readonly string[]; onTake: (found: EstimatedVariances) => void };

function OneEstimate({ run, chosen, onTake }: RunsProps & { run: VarianceRun }) {
  const { answer } = run;
  const a = Object.values(answer.heritability.traits)[0]?.workersRelationship;
  return (
    <div className="stack tight">
      <p>
        <strong>{say(answer.usable ? 'worth.estimate-can' : 'worth.estimate-cannot')}</strong>
      </p>
      {answer.warnings.length === 0 ? null : (
        <ul>
          {answer.warnings.map(({ text }) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      <Numbers found={answer} />
      <p className="note">{say('worth.estimate-definition', { a: plain(a) })}</p>
      <PairNumbers found={answer} />
      {answer.profiles === null ? (
        <p className="note">{say('worth.profile-none')}</p>
      ) : (
        <div className="plots">
          {answer.traits.map((trait) => (
            <ProfilePlot key={trait} trait={trait} points={answer.profiles?.[trait] ?? []} />
          ))}
        </div>
      )}
      {answer.usable ? (
        <div className="cluster">
          <button
            type="button"
            className="button"
            onClick={() => onTake(answer)}
            disabled={!answer.traits.some((trait) => chosen.includes(trait))}
          >
            {say('worth.estimate-take')}
          </button>
        </div>
      ) : null}
      <EstimateProvenance run={run} />
    </div>
  );
}

/** Kept estimates, the newest first; one is looked at. */
export function EstimatedRuns({ chosen, onTake }: RunsProps) {
  const query = useAsk(varianceRuns, {});
  const [id, setId] = useState('');
  return (
    <Asked query={query}>
      {({ runs }) => {
        const run = runs.find(({ line }) => line.id === id) ?? runs[0];
        if (run === undefined) return null;
        return (
          <div className="stack tight">
            <SelectField
              label={say('worth.estimate-of')}
              value={run.line.id as string}
              onChange={setId}
              choices={runs.map(({ line, answer }) => ({
                value: line.id as string,
                words: `${answer.traits.map(traitName).join(', ')}: ${shortDay(line.day)}${line.done === null ? '' : `, ${line.done.slice(11, 16)}`}`,
              }))}
            />
            <OneEstimate key={run.line.id} run={run} chosen={chosen} onTake={onTake} />
          </div>
        );
      }}
    </Asked>
  );
}
