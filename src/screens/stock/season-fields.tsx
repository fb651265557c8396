import { useMemo } from 'react';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { MatingSeasonTold } from '#questions/stock/mating-seasons.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Choosable, useChoosableQueens } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { NumberField, SelectField, TextField } from '../parts/form.tsx';
import { type Weighted, WeightedList } from './weighted-list.tsx';

/** What is typed about a season of a mating place. */
export type SeasonDraft = {
  place: string;
  year: number | null;
  mothers: Weighted[];
  from: Day | null;
  to: Day | null;
  trusted: '' | 'known' | 'guessed';
};

const ofGroup = (id: string) => `group:${id}`;

/** A season as it stands in the form. */
export const draftOfSeason = ({ place, year, queens, groups, from, to, trusted }: MatingSeasonTold): SeasonDraft => ({
  place,
  year,
  mothers: [...groups.map(({ id }) => ofGroup(id)), ...queens.map(({ id }) => id)].map((id) => ({ id, percent: null })),
  from,
  to,
  trusted: trusted ?? '',
});

const sourceOf = (id: string) =>
  id.startsWith('group:') ? { sister_group: id.slice(6) as RecordId } : { queen: id as RecordId };

/** The drone mothers of the form as an action's input. */
export const sourcesOfDraft = ({ mothers }: SeasonDraft) => mothers.map(({ id }) => sourceOf(id));

/** Queens and sister groups, each under an id that tells which it is. */
function useDroneMothers(): Choosable[] {
  const queens = useChoosableQueens('all');
  const { data } = useAsk(chooseOthers, {});
  return useMemo(() => {
    const groups = (data?.groups ?? []).map(({ id, code, beside }) => ({ id: ofGroup(id), code, beside }));
    return [...groups, ...queens];
  }, [queens, data]);
}

type FieldsProps = { draft: SeasonDraft; put: (some: Partial<SeasonDraft>) => void; placeHint?: string };

/** Where and when, how far it is trusted, and what stood there. */
export function SeasonFields({ draft, put, placeHint }: FieldsProps) {
  const mothers = useDroneMothers();
  return (
    <div className="fields">
      <TextField
        label={say('places.place')}
        value={draft.place}
        onChange={(place) => put({ place })}
        at="place"
        needed
        {...(placeHint === undefined ? {} : { hint: placeHint })}
      />
      <NumberField label={say('queen.year')} value={draft.year} onChange={(year) => put({ year })} at="year" needed />
      <DayField label={say('places.from')} value={draft.from} onChange={(from) => put({ from })} at="stood_from" />
      <DayField label={say('places.to')} value={draft.to} onChange={(to) => put({ to })} at="stood_to" />
      <SelectField
        label={say('places.trusted')}
        value={draft.trusted}
        onChange={(trusted) => put({ trusted })}
        choices={(['', 'known', 'guessed'] as const).map((value) => ({
          value,
          words: say(`places.trusted.${value === '' ? 'unsaid' : value}`),
        }))}
      />
      <WeightedList
        label={say('places.mothers')}
        hint={say('places.mothers-hint')}
        items={mothers}
        values={draft.mothers}
        onChange={(values) => put({ mothers: values })}
        at="sources"
      />
    </div>
  );
}
