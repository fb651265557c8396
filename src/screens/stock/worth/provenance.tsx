import { useState } from 'react';
import type { Fingerprints } from '#compute/worth.ts';
import type { RunTold } from '#domain/worth/run-told.ts';
import type { RunLine } from '#questions/stock/worth-runs.ts';
import { shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { useWork } from '../../link/computed.ts';
import { ProvenanceFacts } from './provenance-facts.tsx';
import { inputOfRun } from './sources.ts';

/** How a run was worked out, and the proof that it comes out the same again. */
export function Provenance({ line, told }: { line: RunLine; told: RunTold }) {
  const work = useWork();
  const [found, setFound] = useState<Fingerprints | null>(null);
  const again = async () =>
    setFound(await work.run<Fingerprints>('evaluation-again', {}, { brings: inputOfRun(line) }));
  const isSame =
    found !== null && found.fingerprint === line.fingerprint && found.answerFingerprint === line.answer_fingerprint;
  const facts = [
    [say('worth.run-day'), shortDay(line.day)],
    [say('worth.run-version'), say('worth.run-version-is', { version: line.version })],
    [say('worth.run-records'), String(told.records)],
    [say('worth.run-seed'), say('worth.run-seed-none', { seed: line.seed })],
    [say('worth.run-input'), line.fingerprint],
    [say('worth.run-answer'), line.answer_fingerprint],
    [say('worth.run-residual'), told.residual.toExponential(1)],
  ] as const;
  return (
    <section className="stack tight" aria-labelledby="run">
      <h2 id="run">{say('worth.run')}</h2>
      <ProvenanceFacts facts={facts} />
      <div className="cluster">
        <button type="button" className="button" onClick={() => void again()} disabled={work.progress !== null}>
          {say('worth.run-check')}
        </button>
        <span role="status">
          {found === null
            ? ''
            : isSame
              ? say('worth.run-same')
              : say('worth.run-other', { found: found.answerFingerprint })}
        </span>
      </div>
    </section>
  );
}
