import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherProfiles, profileFor, profileReads } from './profiles.ts';

export const raisedProfileReads = [...profileReads, 'cross'] as const satisfies readonly KindName[];

/** The profile each bar and comb is counted with. */
export type RaisedProfiles = {
  /** By the cross it was grafted for, else the usual one; older larvae, where their age was written down, emerge earlier. */
  ofGraft(graft: Pick<Row<'graft'>, 'cross' | 'larva_age_hours'>): BiologyProfile;
  ofComb(comb: Pick<Row<'drone_comb'>, 'cross'>): BiologyProfile;
};

const NAMELESS = { profile: null, larva_age_hours: null, brood_celsius: null };

/** Reads which profile holds for each bar and comb; `elsewhere` for those of no cross, the usual one without it. */
export async function gatherRaisedProfiles(facts: Facts, elsewhere?: BiologyProfile): Promise<RaisedProfiles> {
  const book = await gatherProfiles(facts);
  const crosses = new Map((await facts.find('cross')).map((row) => [row.id, row]));
  const crossOf = (id: RecordId | null) => (id === null ? undefined : crosses.get(id));
  const none = {
    ...book,
    usual: elsewhere === undefined ? book.usual : { id: null, profile: elsewhere, conditions: {} },
  };
  return {
    ofGraft({ cross, larva_age_hours }) {
      const row = crossOf(cross);
      const fields = row ?? NAMELESS;
      const hours = larva_age_hours ?? fields.larva_age_hours;
      return profileFor({ ...fields, larva_age_hours: hours }, row === undefined ? none : book);
    },
    ofComb({ cross }) {
      const row = crossOf(cross);
      return row === undefined ? profileFor(NAMELESS, none) : profileFor(row, book);
    },
  };
}
