import type { Row } from '#records/kinds.ts';
import { say } from '#words/say.ts';
import { zone } from '../link/this-device.ts';
import { NumberField, TextField } from '../parts/form.tsx';

/** What is written of a yard. */
export type YardDraft = { name: string; zone: string; walking_order: number | null; distance_km: number | null };

export const newYard = (): YardDraft => ({ name: '', zone: zone(), walking_order: null, distance_km: null });

export const draftOf = (yard: Row<'yard'>): YardDraft => ({ ...yard, zone: yard.zone ?? '' });

/** The entry of a draft; what was left empty is not known. */
export const yardOf = ({ name, zone: of, walking_order, distance_km }: YardDraft) => ({
  name,
  zone: of.trim() === '' ? null : of,
  walking_order,
  distance_km,
});

/** The fields of a yard. `at` is where they stand in the action's input. */
export function YardFields({
  draft,
  put,
  at,
}: {
  draft: YardDraft;
  put: (some: Partial<YardDraft>) => void;
  at: string;
}) {
  return (
    <div className="fields">
      <TextField
        label={say('yard.name')}
        value={draft.name}
        onChange={(name) => put({ name })}
        at={`${at}name`}
        needed
      />
      <NumberField
        label={say('yard.walking-order')}
        value={draft.walking_order}
        onChange={(walking_order) => put({ walking_order })}
        at={`${at}walking_order`}
        hint={say('yard.walking-order-hint')}
      />
      <NumberField
        label={say('yard.distance')}
        unit="km"
        value={draft.distance_km}
        onChange={(distance_km) => put({ distance_km })}
        at={`${at}distance_km`}
      />
      <TextField
        label={say('yard.zone')}
        value={draft.zone}
        onChange={(of) => put({ zone: of })}
        at={`${at}zone`}
        hint={say('yard.zone-hint')}
      />
    </div>
  );
}
