import type { PedigreeFacts } from '#domain/pedigree/facts.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { type Laid, layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { relayPedigreeOf } from '#domain/pedigree/relay-pedigree.ts';

/** Kinship that is laid out when it is first asked for, and then only handed on. */
export type LaidOnce = {
  lay(): Laid;
  /** The last pedigree that was laid, of these facts or of those before them: what a change goes on from. */
  newest(): Pedigree | null;
  /** How many nodes had to be worked out; `null` before it is laid and where everything was. */
  recomputed(): number | null;
};

/** The kinship of these facts, going on from what was laid before: only what a change reaches is worked out anew. Holds one pedigree at most. */
export function laidOnce(facts: PedigreeFacts, before: Pick<LaidOnce, 'newest'> | null): LaidOnce {
  let from = before?.newest() ?? null;
  let laid: Laid | null = null;
  let recomputed: number | null = null;
  const lay = (): Laid => {
    if (from === null) return layPedigreeOf(facts);
    const again = relayPedigreeOf(from, facts);
    from = null;
    recomputed = again.recomputed;
    return again.laid;
  };
  return {
    lay() {
      laid ??= lay();
      return laid;
    },
    newest: () => laid?.pedigree ?? from,
    recomputed: () => recomputed,
  };
}
