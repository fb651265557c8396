import { useMemo } from 'react';
import type { CarriesEntry, SourceEntry } from '#actions/stock/queen-entry.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Choosable, useChoosableQueens } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { NumberField, SelectField, TextField, TickField } from '../parts/form.tsx';
import { sharesOf, type Weighted, WeightedList } from './weighted-list.tsx';

/** What is typed about what a queen carries. */
export type CarriesDraft = {
  how: 'unknown' | CarriesEntry['how'];
  sources: Weighted[];
  oneOf: boolean;
  on: Day | null;
  drones: number | null;
  saidBy: string;
  percent: number | null;
  /** Season of the mating place she flew to; '' = none of those written down. */
  season: string;
};

export const carriesNothing: CarriesDraft = {
  how: 'unknown',
  sources: [],
  oneOf: false,
  on: null,
  drones: null,
  saidBy: '',
  percent: null,
  season: '',
};

/** Queens, sister groups and lines that may have given drones, each under an id that tells which it is. */
function useSources(): Choosable[] {
  const queens = useChoosableQueens('all');
  const { data } = useAsk(chooseOthers, {});
  return useMemo(() => {
    const groups = (data?.groups ?? []).map(({ id, code, beside }) => ({ id: `group:${id}`, code, beside }));
    const lines = (data?.lines ?? []).map(({ id, code }) => ({ id: `line:${id}`, code, beside: say('kind.line') }));
    return [...queens, ...groups, ...lines];
  }, [queens, data]);
}

function sourceOf(id: string): SourceEntry {
  if (id.startsWith('group:')) return { sister_group: id.slice(6) as RecordId };
  return id.startsWith('line:') ? { line: id.slice(5) as RecordId } : { queen: id as RecordId };
}

/** What is typed as an action's input; `undefined` when nothing is known of her mating. */
export function carriesOf(draft: CarriesDraft): CarriesEntry | undefined {
  const { how, sources, oneOf, on, drones, saidBy, percent, season } = draft;
  if (how === 'unknown') return undefined;
  const shares = sharesOf(sources);
  const parts = sources.map(({ id }, i) => ({
    ...sourceOf(id),
    ...(sources.length > 1 ? { share: shares[i] } : {}),
    ...(oneOf ? { alternative: 1 as const } : {}),
  })) as SourceEntry[];
  const named = how === 'inseminated' || how === 'seller';
  const flew = how === 'open' || how === 'suspected';
  return {
    how,
    ...(flew && season !== '' ? { season: season as RecordId } : {}),
    ...(named && parts.length > 0 ? { parts } : {}),
    ...(on === null ? {} : { on }),
    ...(drones === null ? {} : { drones }),
    ...(how === 'seller' && saidBy.trim() !== '' ? { said_by: saidBy } : {}),
    ...(how === 'suspected' && percent !== null ? { share: percent / 100 } : {}),
  };
}

type FieldsProps = { draft: CarriesDraft; put: (some: Partial<CarriesDraft>) => void; at: string };

/** What a queen carries: not known, inseminated with named drone mothers, a seller's word, a mating flight. */
export function CarriesFields({ draft, put, at }: FieldsProps) {
  const items = useSources();
  const { data } = useAsk(chooseOthers, {});
  const seasons = data?.seasons ?? [];
  const { how, sources } = draft;
  const named = how === 'inseminated' || how === 'seller';
  const flew = how === 'open' || how === 'suspected';
  return (
    <fieldset>
      <legend>{say('carries.legend')}</legend>
      <div className="fields">
        <SelectField
          label={say('carries.how')}
          value={how}
          onChange={(value) => put({ how: value })}
          choices={(['unknown', 'inseminated', 'seller', 'open', 'suspected'] as const).map((value) => ({
            value,
            words: say(`carries.${value}`),
          }))}
        />
        {how === 'unknown' ? null : (
          <>
            <DayField label={say('carries.on')} value={draft.on} onChange={(on) => put({ on })} at={`${at}.on`} />
            <NumberField
              label={say('carries.drones')}
              hint={say(flew ? 'carries.drones-flew-hint' : 'carries.drones-hint')}
              value={draft.drones}
              onChange={(drones) => put({ drones })}
              at={`${at}.drones`}
            />
          </>
        )}
        {flew && seasons.length > 0 ? (
          <SelectField
            label={say('carries.place')}
            hint={say('carries.place-hint')}
            value={draft.season}
            onChange={(season) => put({ season })}
            at={`${at}.season`}
            choices={[
              { value: '', words: say('carries.place-none') },
              ...seasons.map(({ id, code, beside }) => ({ value: id, words: `${code}, ${beside}` })),
            ]}
          />
        ) : null}
        {how === 'seller' ? (
          <TextField label={say('carries.said-by')} value={draft.saidBy} onChange={(saidBy) => put({ saidBy })} />
        ) : null}
        {how === 'suspected' ? (
          <NumberField
            label={say('carries.part')}
            unit="%"
            value={draft.percent}
            onChange={(percent) => put({ percent })}
            at={`${at}.share`}
          />
        ) : null}
        {named ? (
          <WeightedList
            label={say('carries.mothers')}
            hint={say('carries.mothers-hint')}
            items={items}
            values={sources}
            onChange={(values) => put({ sources: values })}
            percentLabel={(code) => say(draft.oneOf ? 'carries.likely' : 'carries.share-of', { code })}
          />
        ) : null}
        {named && sources.length > 1 ? (
          <TickField label={say('carries.one-of')} value={draft.oneOf} onChange={(oneOf) => put({ oneOf })} />
        ) : null}
      </div>
    </fieldset>
  );
}
