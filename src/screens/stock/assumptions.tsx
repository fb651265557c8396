import { type Assumption, inShort } from '#domain/pedigree/assumption.ts';
import { figure, shareWords } from '#words/queen-words.ts';
import { language, say } from '#words/say.ts';

/** One assumption in words. */
export function assumptionWords(assumption: Assumption): string {
  switch (assumption.code) {
    case 'open-mated':
      return say('assumption.open-mated', { queen: assumption.queen, drones: figure(assumption.drones, 1) });
    case 'drones-not-said':
      return say('assumption.drones-not-said', { pool: assumption.pool, drones: figure(assumption.drones, 1) });
    case 'source-drones-not-said':
      return say('assumption.source-drones-not-said', {
        pool: assumption.pool,
        source: assumption.source,
        drones: figure(assumption.drones, 1),
      });
    case 'open-source':
      return say('assumption.open-source', { pool: assumption.pool, share: shareWords(assumption.share) });
    case 'one-of': {
      const each = assumption.sources.map(({ source, probability }) => `${source} ${shareWords(probability)}`);
      const names = new Intl.ListFormat(language(), { type: 'disjunction' }).format(each);
      return say('assumption.one-of', { pool: assumption.pool, names });
    }
    case 'sister-group':
      return say('assumption.sister-group', { queen: assumption.queen, n: assumption.sisters });
    case 'sister-group-without-dam':
      return say('assumption.sister-group-without-dam', { queen: assumption.queen });
    case 'share-filled-in':
      return say('assumption.share-filled-in', {
        pool: assumption.pool,
        source: assumption.source,
        share: shareWords(assumption.share),
      });
    case 'shares-scaled':
      return say('assumption.shares-scaled', { pool: assumption.pool, sum: figure(assumption.sum) });
    case 'drones-not-used':
      return say('assumption.drones-not-used', { queen: assumption.queen, drones: figure(assumption.drones, 1) });
    case 'met-at-random':
      return say('assumption.met-at-random', { pool: assumption.pool });
    case 'line-stands-in':
      return say('assumption.line-stands-in', { n: assumption.mothers });
    case 'taken-for-granted':
      return say('assumption.taken-for-granted', { about: assumption.about, text: assumption.text });
  }
}

/** What a number rests on, folded away behind how many assumptions there are. */
export const Assumptions = ({ assumptions }: { assumptions: readonly Assumption[] }) => (
  <AssumptionsInShort told={inShort(assumptions)} n={assumptions.length} />
);

/** {@link Assumptions} told in short already, `n` of them. */
export function AssumptionsInShort({ told: { shown, more }, n: all }: { told: ReturnType<typeof inShort>; n: number }) {
  if (all === 0) return <p className="note">{say('assumption.none')}</p>;
  return (
    <details className="assumptions">
      <summary>{say('assumption.rests-on', { n: all })}</summary>
      <ul>
        {shown.map((assumption) => (
          <li key={JSON.stringify(assumption)}>{assumptionWords(assumption)}</li>
        ))}
        {more.map(({ code, n }) => (
          <li key={code}>
            {say('assumption.more', { n })}{' '}
            {shown
              .filter((one) => one.code === code)
              .slice(0, 1)
              .map(assumptionWords)}
          </li>
        ))}
      </ul>
    </details>
  );
}
