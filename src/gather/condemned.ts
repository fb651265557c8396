import { type Condemned, condemnedBy } from '#domain/semen/condemned.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import type { GatheredLedger } from './ledger.ts';

export const condemnedReads = [
  'drone_catch_reason',
  'drone_catch',
  'insemination',
] as const satisfies readonly KindName[];

/** Tubes faeces got into (and every tube drawn over from them since), and the queens served from them. */
export async function gatherCondemned(facts: Facts, ledger: GatheredLedger): Promise<Condemned> {
  const soiled = (await facts.find('drone_catch_reason', { reason: 'faeces' })).filter(({ tube }) => tube !== null);
  if (soiled.length === 0) return { tubes: [], queens: [] };
  const catches = new Map((await facts.find('drone_catch')).map((row) => [row.id, row]));
  const soilings = soiled.flatMap(({ tube, catch: from }) => {
    const at = catches.get(from)?.moment ?? null;
    return tube === null || at === null ? [] : [{ tube, at }];
  });
  const served = new Map((await facts.find('insemination')).map(({ id, queen }) => [id, queen]));
  const doses = ledger.lines.flatMap(({ id, insemination }) => {
    const queen = insemination === null ? undefined : served.get(insemination);
    return queen === undefined ? [] : [{ line: id, queen }];
  });
  return condemnedBy(soilings, ledger.facts.lines, doses);
}
