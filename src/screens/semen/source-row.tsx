import { chooseOthers } from '#questions/stock/choose-others.ts';
import { say, sayAny } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Choosable, ChooseQueen, ChooseRecord } from '../parts/choose-record.tsx';
import { NumberField, SelectField, TextField } from '../parts/form.tsx';
import type { TallySource } from './tally-state.ts';

const kinds = ['mother', 'colony', 'sister_group'] as const;

/** Whose drones: their mother, their colony or a group; with their share once there are several. */
export function SourceRow({
  source,
  at,
  put,
  remove,
  many,
}: {
  source: TallySource;
  many: boolean;
  at: number;
  put: (next: TallySource) => void;
  remove: (() => void) | null;
}) {
  const { data } = useAsk(chooseOthers, {});
  const lists: Record<'colony' | 'sister_group', Choosable[]> = {
    colony: data?.colonies ?? [],
    sister_group: data?.groups ?? [],
  };
  const chosen = { value: source.id, onChange: (id: string | null) => put({ ...source, id }) };
  const label = say('semen.tally.whose', { n: at + 1 });
  return (
    <div className="fields">
      <SelectField
        label={say('semen.tally.told-by')}
        value={source.kind}
        onChange={(kind) => put({ ...source, kind, id: null })}
        choices={kinds.map((value) => ({ value, words: sayAny(`semen.tally.by.${value}`) }))}
      />
      {source.kind === 'mother' ? (
        <ChooseQueen label={label} which="all" at={`sources.${at}.mother`} {...chosen} />
      ) : (
        <ChooseRecord label={label} items={lists[source.kind]} at={`sources.${at}.${source.kind}`} {...chosen} />
      )}
      {many ? (
        <>
          <NumberField
            label={say('semen.tally.share')}
            unit="%"
            value={source.share}
            onChange={(share) => put({ ...source, share })}
          />
          <TextField
            label={say('semen.tally.told-apart')}
            value={source.toldApart}
            onChange={(toldApart) => put({ ...source, toldApart })}
          />
        </>
      ) : null}
      {remove === null ? null : (
        <button type="button" className="button quiet" onClick={remove}>
          {say('semen.tally.remove')}
        </button>
      )}
    </div>
  );
}
