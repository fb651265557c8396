import { useNavigate } from '@tanstack/react-router';
import { recordQueen } from '#actions/stock/record-queen.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { ChooseRecord } from '../parts/choose-record.tsx';
import { Form, TextArea, TickField, useDraft } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { type CarriesDraft, CarriesFields, carriesNothing, carriesOf } from './carries-fields.tsx';
import {
  factsOf,
  type MarkDraft,
  MarkFields,
  markOf,
  nobody,
  noMark,
  possibleDams,
  type WhoDraft,
  WhoFields,
  yearTyped,
} from './queen-fields.tsx';
import { StockNav } from './stock-nav.tsx';

type Draft = {
  who: WhoDraft;
  mark: MarkDraft;
  carries: CarriesDraft;
  colony: string | null;
  seen: boolean;
  note: string;
};
const fresh: Draft = { who: nobody, mark: noMark, carries: carriesNothing, colony: null, seen: false, note: '' };

function entryOf({ who, mark, carries, colony, seen, note }: Draft) {
  const guesses = possibleDams(who).map(({ dam, weight }) => ({ field: 'dam', value: dam, weight }));
  const worn = markOf(mark);
  const carried = carriesOf(carries);
  return {
    queen: factsOf(who),
    ...(guesses.length === 0 ? {} : { guesses }),
    ...(worn === undefined ? {} : { mark: worn }),
    ...(carried === undefined ? {} : { carries: carried }),
    ...(colony === null ? {} : { stands: { colony: colony as RecordId } }),
    ...(seen ? { seen_on: today() } : {}),
    ...(note.trim() === '' ? {} : { note }),
  };
}

/** Writes down one queen with what is known of her; what is not known stays unknown. */
export function NewQueenPage() {
  const navigate = useNavigate();
  const { run, problems, busy } = useDo();
  const [draft, put, clear] = useDraft<Draft>('new-queen', fresh);
  const { data } = useAsk(chooseOthers, {});
  const keep = async () => {
    const did = await run(recordQueen, entryOf(draft), { happened: true });
    if ('problems' in did) return;
    clear();
    tell(say('queen.kept', { code: draft.who.code }));
    void navigate({ to: '/stock/queen/$id', params: { id: did.result.id } });
  };
  return (
    <section className="stack">
      <h1>{say('stock.new')}</h1>
      <StockNav />
      <Form
        act={say('queen.keep')}
        onSubmit={keep}
        problems={problems}
        busy={busy}
        onLeave={() => {
          clear();
          void navigate({ to: '/stock' });
        }}
      >
        <WhoFields draft={draft.who} put={(some) => put({ who: { ...draft.who, ...some } })} at="queen" />
        <fieldset>
          <legend>{say('stock.mark')}</legend>
          <MarkFields
            draft={draft.mark}
            put={(some) => put({ mark: { ...draft.mark, ...some } })}
            year={yearTyped(draft.who)}
            at="mark"
          />
        </fieldset>
        <CarriesFields
          draft={draft.carries}
          put={(some) => put({ carries: { ...draft.carries, ...some } })}
          at="carries"
        />
        <fieldset>
          <legend>{say('stock.stands')}</legend>
          <div className="fields">
            <ChooseRecord
              label={say('queen.colony')}
              items={data?.colonies ?? []}
              value={draft.colony}
              onChange={(colony) => put({ colony })}
              at="stands.colony"
            />
            <TickField label={say('queen.seen-today')} value={draft.seen} onChange={(seen) => put({ seen })} />
            <TextArea label={say('queen.note')} value={draft.note} onChange={(note) => put({ note })} at="note" />
          </div>
        </fieldset>
      </Form>
    </section>
  );
}
