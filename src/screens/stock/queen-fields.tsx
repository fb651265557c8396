import { freeDiscs, nextDisc } from '#domain/marking/disc-number.ts';
import { yearMark } from '#domain/marking/year-colour.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import { stockBook } from '#questions/stock/stock-book.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { ChooseRecord, useChoosableQueens } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { ChoiceField, NumberField, SelectField, TextField } from '../parts/form.tsx';
import { MarkShape } from '../parts/queen-mark.tsx';
import { sharesOf, type Weighted, WeightedList } from './weighted-list.tsx';

const origins = ['bred', 'bought', 'given', 'caught', 'found'] as const;

/** What is typed about who a queen is. */
export type WhoDraft = {
  code: string;
  emergedHow: 'day' | 'about' | 'year' | 'unknown';
  emerged: Day | null;
  about: number | null;
  year: number | null;
  damHow: 'known' | 'guessed' | 'unknown';
  dam: string | null;
  dams: Weighted[];
  line: string | null;
  origin: (typeof origins)[number] | '';
  cameOn: Day | null;
};

export const nobody: WhoDraft = {
  code: '',
  emergedHow: 'day',
  emerged: null,
  about: 5,
  year: null,
  damHow: 'known',
  dam: null,
  dams: [],
  line: null,
  origin: '',
  cameOn: null,
};

const id = (text: string | null) => text as RecordId | null;

/** The facts of a queen as they are typed; every field is said, so that a correction can take one back. */
export function factsOf(draft: WhoDraft) {
  const dated = draft.emergedHow === 'day' || draft.emergedHow === 'about';
  const about = draft.emergedHow === 'about' ? (draft.about ?? 5) : null;
  const shares = sharesOf(draft.dams);
  const likeliest = draft.dams.reduce<number>((best, _, i) => ((shares[i] ?? 0) > (shares[best] ?? 0) ? i : best), 0);
  const guessed = draft.damHow === 'guessed' ? (draft.dams[likeliest]?.id ?? null) : null;
  const dam = draft.damHow === 'known' ? draft.dam : guessed;
  return {
    code: draft.code.trim() === '' ? null : draft.code.trim(),
    emerged: dated ? draft.emerged : null,
    emerged_about: dated && draft.emerged !== null ? about : null,
    emerged_sure: dated && draft.emerged !== null ? (about === null ? ('known' as const) : ('guessed' as const)) : null,
    year: draft.emergedHow === 'year' ? draft.year : null,
    dam: id(dam),
    dam_sure: dam === null ? null : draft.damHow === 'known' ? ('known' as const) : ('guessed' as const),
    line: id(draft.line),
    origin: draft.origin === '' ? null : draft.origin,
    came_on: draft.cameOn,
  };
}

/** Every possible dam with how likely she is, when that is a guess. */
export function possibleDams(draft: WhoDraft): { dam: RecordId; weight: number }[] {
  if (draft.damHow !== 'guessed' || draft.dams.length < 2) return [];
  const shares = sharesOf(draft.dams);
  return draft.dams.map((value, i) => ({ dam: value.id as RecordId, weight: Math.min(1, shares[i] ?? 0) }));
}

type FieldsProps = { draft: WhoDraft; put: (some: Partial<WhoDraft>) => void; at: string };

function EmergedFields({ draft, put, at }: FieldsProps) {
  return (
    <>
      <ChoiceField
        label={say('queen.emerged-how')}
        value={draft.emergedHow}
        onChange={(emergedHow) => put({ emergedHow })}
        choices={(['day', 'about', 'year', 'unknown'] as const).map((value) => ({
          value,
          words: say(`queen.emerged-${value}`),
        }))}
      />
      {draft.emergedHow === 'day' || draft.emergedHow === 'about' ? (
        <DayField
          label={say('queen.emerged-on')}
          value={draft.emerged}
          onChange={(emerged) => put({ emerged })}
          at={`${at}.emerged`}
        />
      ) : null}
      {draft.emergedHow === 'about' ? (
        <NumberField
          label={say('queen.give-or-take')}
          unit={say('queen.days')}
          value={draft.about}
          onChange={(about) => put({ about })}
          at={`${at}.emerged_about`}
        />
      ) : null}
      {draft.emergedHow === 'year' ? (
        <NumberField
          label={say('queen.year')}
          value={draft.year}
          onChange={(year) => put({ year })}
          at={`${at}.year`}
        />
      ) : null}
    </>
  );
}

function DamFields({ draft, put, at }: FieldsProps) {
  const queens = useChoosableQueens('all');
  return (
    <>
      <ChoiceField
        label={say('queen.dam-how')}
        value={draft.damHow}
        onChange={(damHow) => put({ damHow })}
        choices={(['known', 'guessed', 'unknown'] as const).map((value) => ({
          value,
          words: say(`queen.dam-${value}`),
        }))}
      />
      {draft.damHow === 'known' ? (
        <ChooseRecord
          label={say('stock.dam')}
          items={queens}
          value={draft.dam}
          onChange={(dam) => put({ dam })}
          at={`${at}.dam`}
        />
      ) : null}
      {draft.damHow === 'guessed' ? (
        <WeightedList
          label={say('queen.dams')}
          hint={say('queen.dams-hint')}
          items={queens}
          values={draft.dams}
          onChange={(dams) => put({ dams })}
          percentLabel={(code) => say('carries.likely', { code })}
          at={`${at}.dam`}
        />
      ) : null}
    </>
  );
}

/** Who she is: code, when she emerged and how surely, her dam and how surely, her line, where she came from. */
export function WhoFields({ draft, put, at }: FieldsProps) {
  const { data } = useAsk(chooseOthers, {});
  return (
    <>
      <div className="fields">
        <TextField
          label={say('queen.code')}
          hint={say('queen.code-hint')}
          code
          value={draft.code}
          onChange={(code) => put({ code })}
          at={`${at}.code`}
        />
        <ChooseRecord
          label={say('stock.line')}
          items={data?.lines ?? []}
          value={draft.line}
          onChange={(line) => put({ line })}
          at={`${at}.line`}
        />
        <SelectField
          label={say('queen.origin')}
          value={draft.origin}
          onChange={(origin) => put({ origin })}
          choices={[
            { value: '', words: say('form.not-said') },
            ...origins.map((value) => ({ value, words: sayAny(`origin.${value}`) })),
          ]}
        />
        {draft.origin === '' || draft.origin === 'bred' ? null : (
          <DayField
            label={say('queen.came-on')}
            value={draft.cameOn}
            onChange={(cameOn) => put({ cameOn })}
            at={`${at}.came_on`}
          />
        )}
      </div>
      <fieldset>
        <legend>{say('stock.emerged')}</legend>
        <div className="fields">
          <EmergedFields draft={draft} put={put} at={at} />
        </div>
      </fieldset>
      <fieldset>
        <legend>{say('stock.dam')}</legend>
        <div className="fields">
          <DamFields draft={draft} put={put} at={at} />
        </div>
      </fieldset>
    </>
  );
}

const colours = ['white', 'yellow', 'red', 'green', 'blue', 'other', 'none'] as const;

/** What is typed about a mark. */
export type MarkDraft = {
  colour: (typeof colours)[number] | '';
  disc: number | null;
  clip: 'left' | 'right' | 'none' | '';
};
export const noMark: MarkDraft = { colour: '', disc: null, clip: '' };

/** The mark as an action's input; `undefined` when nothing is said. */
export function markOf({ colour, disc, clip }: MarkDraft) {
  if (colour === '' && disc === null && clip === '') return undefined;
  return {
    ...(colour === '' ? {} : { colour }),
    ...(disc === null ? {} : { disc }),
    ...(clip === '' ? {} : { clip }),
  };
}

/** The calendar year of what is typed, if it tells one. */
export const yearTyped = ({ emergedHow, emerged, year }: WhoDraft): number | null => {
  if (emergedHow === 'year') return year;
  return emerged === null || emergedHow === 'unknown' ? null : yearOf(emerged);
};

/** The disc numbers that may be put on next in a year. */
function useNextDisc(year: number | null): { next: number | null; isFree: (disc: number) => boolean } {
  const { data } = useAsk(stockBook, { today: today() }, year !== null);
  if (year === null || data === undefined) return { next: null, isFree: () => true };
  const bearers = data.queens.flatMap((row) =>
    row.year === null ? [] : [{ year: row.year, disc: row.mark?.disc ?? null, living: row.living !== 'gone' }],
  );
  const free = new Set(freeDiscs(year, bearers));
  return { next: nextDisc(year, bearers), isFree: (disc) => disc > 99 || free.has(disc) };
}

type MarkProps = { draft: MarkDraft; put: (some: Partial<MarkDraft>) => void; year: number | null; at: string };

/** Her mark: the colour seen on her (that of her year is named), the disc (the next free one is offered), a clipped wing. */
export function MarkFields({ draft, put, year, at }: MarkProps) {
  const { next, isFree } = useNextDisc(year);
  const due = year === null || year < 1900 ? null : yearMark(year).colour;
  const taken = draft.disc !== null && !isFree(draft.disc);
  return (
    <div className="fields">
      <SelectField
        label={say('queen.mark-colour')}
        hint={due === null ? undefined : <YearColour colour={due} year={year ?? 0} />}
        value={draft.colour}
        onChange={(colour) => put({ colour })}
        at={`${at}.colour`}
        choices={[
          { value: '', words: say('form.not-said') },
          ...colours.map((value) => ({ value, words: sayAny(`mark.${value}`) })),
        ]}
      />
      <NumberField
        label={say('queen.disc')}
        hint={taken ? say('queen.disc-taken') : next === null ? undefined : say('queen.disc-next', { disc: next })}
        value={draft.disc}
        onChange={(disc) => put({ disc })}
        at={`${at}.disc`}
      />
      <SelectField
        label={say('queen.clip')}
        value={draft.clip}
        onChange={(clip) => put({ clip })}
        at={`${at}.clip`}
        choices={[
          { value: '', words: say('form.not-said') },
          ...(['left', 'right', 'none'] as const).map((value) => ({ value, words: say(`clip.${value}`) })),
        ]}
      />
    </div>
  );
}

const YearColour = ({ colour, year }: { colour: 'white' | 'yellow' | 'red' | 'green' | 'blue'; year: number }) => (
  <span className="queen-mark">
    <MarkShape colour={colour} /> {say('queen.year-colour', { year: String(year), colour: sayAny(`mark.${colour}`) })}
  </span>
);
