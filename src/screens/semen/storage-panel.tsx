import { type EvidenceReading, storagePicture } from '#domain/semen/storage.ts';
import type { TubeLeaf } from '#questions/semen/tube-story.ts';
import { say, sayAny, sayProblem } from '#words/say.ts';
import { ageDays, ageWords } from './semen-words.ts';

const hundredths = (share: number): string => (share * 100).toFixed(0);

type Step = NonNullable<EvidenceReading['step']>;

function findingWords({ finding, low, high }: Step): string {
  const said = (share: number | null) => (share === null ? '' : hundredths(share));
  return sayAny(`semen.finding.${finding}`, { low: said(low), high: said(high) });
}

/** What a source says of this age; where it was measured only later, what it found then; where it ends before, that it does. */
function readingWords({ step, evidence, reachesDay }: EvidenceReading, days: number): string {
  if (step !== null) return findingWords(step);
  const later = evidence.steps.find(({ fromDay }) => fromDay > days);
  if (later === undefined) return say('semen.storage.not-reached', { days: reachesDay });
  return say('semen.storage.only-later', { days: later.fromDay, finding: findingWords(later) });
}

function Evidence({ title, readings, days }: { title: string; readings: readonly EvidenceReading[]; days: number }) {
  return (
    <div className="evidence">
      <h3>{title}</h3>
      {readings.length === 0 ? <p>{say('semen.storage.none')}</p> : null}
      <ul>
        {readings.map((reading) => (
          <li key={reading.evidence.key}>
            {readingWords(reading, days)}
            <span className="note"> {reading.evidence.source}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

/**
 * What is known of semen so old, kept like this: is it alive, and does it do its work, apart from each other, source by source. No
 * curve runs through them: nobody measured one.
 */
export function StoragePanel({ leaf }: { leaf: TubeLeaf }) {
  if (leaf.since === null || leaf.left <= 0) return null;
  const kept = {
    ageDays: ageDays(leaf.since),
    celsius: leaf.tube.temperature_c,
    diluted: leaf.diluted,
    frozen: leaf.frozen,
  };
  const picture = storagePicture(kept);
  return (
    <section className="stack tight">
      <h2>{say('semen.storage.title')}</h2>
      <p>
        {say('semen.storage.kept', {
          age: ageWords(leaf),
          where: leaf.tube.stored_where ?? say('semen.storage.where-unknown'),
          celsius: kept.celsius === null ? say('semen.storage.celsius-unknown') : `${kept.celsius} °C`,
          diluted: leaf.diluted ? 'yes' : 'no',
          sealed: leaf.sealed ? 'yes' : 'no',
        })}
      </p>
      {leaf.maybeOlder ? <p className="problem">{say('semen.storage.maybe-older')}</p> : null}
      {picture.problems.map((problem) => (
        <p key={problem.code} className="problem">
          {sayProblem({ code: problem.code, values: { ...problem.values, days: Math.floor(kept.ageDays) } })}
        </p>
      ))}
      <div className="two-kinds">
        <Evidence title={say('semen.storage.alive')} readings={picture.viability} days={kept.ageDays} />
        <Evidence title={say('semen.storage.works')} readings={picture.function} days={kept.ageDays} />
      </div>
      <ul className="note">
        {picture.cautions.map((caution) => (
          <li key={caution}>{sayAny(`semen.storage.${caution}`)}</li>
        ))}
      </ul>
    </section>
  );
}
