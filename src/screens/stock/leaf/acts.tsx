import { type ReactNode, useMemo, useState } from 'react';
import { describeQueen } from '#actions/stock/describe-queen.ts';
import { lendQueen, returnQueen } from '#actions/stock/lend-queen.ts';
import { markQueen } from '#actions/stock/mark-queen.ts';
import { moveQueen } from '#actions/stock/move-queen.ts';
import { recodeQueen } from '#actions/stock/recode-queen.ts';
import { recordFate } from '#actions/stock/record-fate.ts';
import { recordExchange, recordNote, recordPerson } from '#actions/stock/record-plain.ts';
import { tellMating } from '#actions/stock/tell-mating.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { QueenLeaf } from '#questions/stock/queen-leaf.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { type Did, useDo } from '../../link/use-do.ts';
import { ChooseQueen, ChooseRecord } from '../../parts/choose-record.tsx';
import { DayField } from '../../parts/day-words.tsx';
import { Form, SelectField, TextArea, TextField } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';
import { useKeys } from '../../shell/keys.ts';
import { type CarriesDraft, CarriesFields, carriesNothing, carriesOf } from '../carries-fields.tsx';
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
} from '../queen-fields.tsx';

type FormProps = { leaf: QueenLeaf; onDone: () => void };
type Queen = RecordId;

/** What every small form does: one act, then it says so and closes. */
function useAct({ onDone }: FormProps) {
  const { run, problems, busy } = useDo();
  const done = <R,>(did: Did<R>, words: string): void => {
    if ('problems' in did) return;
    tell(words);
    onDone();
  };
  return { run, problems, busy, done };
}

const idOf = ({ row }: QueenLeaf) => row.id as Queen;
const doing = { happened: true };

/** The readings of a guessed dam as they stand in the form; one without a weight is a guess alone. */
function damsOf({ record, row, damReadings }: QueenLeaf): WhoDraft['dams'] {
  if (!row.dam?.guessed || record.dam === null) return [];
  const readings = damReadings.map(({ dam, weight }) => ({ id: dam, percent: weight === null ? null : weight * 100 }));
  return readings.length > 0 ? readings : [{ id: record.dam, percent: null }];
}

function whoOf(leaf: QueenLeaf): WhoDraft {
  const { record, row } = leaf;
  const emergedHow =
    record.emerged === null ? (record.year === null ? 'unknown' : 'year') : record.emerged_about ? 'about' : 'day';
  return {
    ...nobody,
    code: record.code ?? '',
    emergedHow,
    emerged: record.emerged,
    about: record.emerged_about ?? 5,
    year: record.year,
    damHow: record.dam === null ? 'unknown' : row.dam?.guessed ? 'guessed' : 'known',
    dam: record.dam,
    dams: damsOf(leaf),
    line: record.line,
    origin: record.origin ?? '',
    cameOn: record.came_on,
  };
}

function CorrectForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const [who, setWho] = useState(() => whoOf(props.leaf));
  const keep = async () => {
    const set = factsOf(who);
    const dams = possibleDams(who);
    done(await run(describeQueen, { queen: idOf(props.leaf), set, dams }), say('act.corrected'));
  };
  return (
    <Form act={say('act.correct')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <WhoFields draft={who} put={(some) => setWho((before) => ({ ...before, ...some }))} at="set" />
    </Form>
  );
}

function MarkForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const [mark, setMark] = useState<MarkDraft>(noMark);
  const [on, setOn] = useState<Day | null>(today());
  const keep = async () => {
    const given = { queen: idOf(props.leaf), ...markOf(mark), ...(on === null ? {} : { worn_from: on }) };
    done(await run(markQueen, given, doing), say('act.marked'));
  };
  return (
    <Form act={say('act.mark')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <MarkFields
        draft={mark}
        put={(some) => setMark((before) => ({ ...before, ...some }))}
        year={props.leaf.row.year}
        at=""
      />
      <div className="fields">
        <DayField label={say('act.on')} value={on} onChange={setOn} at="worn_from" />
      </div>
    </Form>
  );
}

function MoveForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const { data } = useAsk(chooseOthers, {});
  const [to, setTo] = useState<{ colony: string | null; cage: string | null }>({ colony: null, cage: null });
  const [on, setOn] = useState<Day | null>(today());
  const keep = async () => {
    const place = {
      ...(to.colony === null ? {} : { colony: to.colony as Queen }),
      ...(to.cage === null ? {} : { cage: to.cage as Queen }),
    };
    const given = { queen: idOf(props.leaf), ...place, ...(on === null ? {} : { on }) };
    done(await run(moveQueen, given, doing), say('act.moved'));
  };
  return (
    <Form act={say('act.move')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <div className="fields">
        <ChooseRecord
          label={say('queen.colony')}
          items={data?.colonies ?? []}
          value={to.colony}
          onChange={(colony) => setTo({ colony, cage: null })}
          at="colony"
        />
        <ChooseRecord
          label={say('kind.cage')}
          items={data?.cages ?? []}
          value={to.cage}
          onChange={(cage) => setTo({ colony: null, cage })}
          at="cage"
        />
        <DayField label={say('act.on')} value={on} onChange={setOn} at="on" />
      </div>
      <p className="note">{say('act.move-nowhere')}</p>
    </Form>
  );
}

function MatingForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const [draft, setDraft] = useState<CarriesDraft>({ ...carriesNothing, how: 'inseminated' });
  const keep = async () => {
    const carries = carriesOf(draft);
    if (carries === undefined) return;
    done(await run(tellMating, { queen: idOf(props.leaf), carries }, doing), say('act.told-mating'));
  };
  return (
    <Form act={say('act.tell-mating')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <CarriesFields draft={draft} put={(some) => setDraft((before) => ({ ...before, ...some }))} at="carries" />
    </Form>
  );
}

function CodeForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const [code, setCode] = useState('');
  const keep = async () =>
    done(await run(recodeQueen, { queen: idOf(props.leaf), code }), say('act.recoded', { code }));
  return (
    <Form act={say('act.recode')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <div className="fields">
        <TextField
          label={say('queen.code')}
          value={code}
          onChange={setCode}
          at="code"
          code
          needed
          hint={say('act.recode-hint')}
        />
      </div>
    </Form>
  );
}

const fates = [
  'died',
  'lost',
  'superseded',
  'drone-layer',
  'culled',
  'sold',
  'given',
  'sampled',
  'swarmed',
  'not-taken',
] as const;

function FateForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const [fate, setFate] = useState<(typeof fates)[number]>('died');
  const [from, setFrom] = useState<Day | null>(today());
  const [to, setTo] = useState<Day | null>(null);
  const [cause, setCause] = useState('');
  const keep = async () => {
    const given = {
      queen: idOf(props.leaf),
      kind: fate,
      happened_on: from,
      happened_latest: to ?? from,
      ...(cause.trim() === '' ? {} : { cause, cause_sure: 'known' as const }),
    };
    done(await run(recordFate, given, doing), say('act.fate-kept'));
  };
  return (
    <Form act={say('act.fate')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <div className="fields">
        <SelectField
          label={say('act.fate-what')}
          value={fate}
          onChange={setFate}
          at="kind"
          choices={fates.map((value) => ({ value, words: sayAny(`story.fate.${value}`) }))}
        />
        <DayField label={say('act.fate-from')} value={from} onChange={setFrom} at="happened_on" />
        <DayField
          label={say('act.fate-to')}
          value={to}
          onChange={setTo}
          at="happened_latest"
          hint={say('act.fate-span')}
        />
        <TextField label={say('act.cause')} value={cause} onChange={setCause} at="cause" />
      </div>
    </Form>
  );
}

function LendForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const { data } = useAsk(chooseOthers, {});
  const [person, setPerson] = useState<string | null>(null);
  const [name, setName] = useState('');
  const [on, setOn] = useState<Day | null>(today());
  const lent = props.leaf.lentTo;
  const queen = idOf(props.leaf);
  const day = on === null ? {} : { on };
  const takeBack = async () =>
    done(
      await run(returnQueen, { queen, ...day, ...(name.trim() === '' ? {} : { code_there: name }) }, doing),
      say('act.back'),
    );
  const lend = async () => {
    let to = person as Queen | null;
    if (to === null) {
      const made = await run(recordPerson, { name });
      if ('problems' in made) return;
      to = made.result.id;
    }
    done(await run(lendQueen, { queen, lent_to: to, ...day }, doing), say('act.lent'));
  };
  if (lent !== null)
    return (
      <Form act={say('act.take-back')} onSubmit={takeBack} problems={problems} busy={busy} onLeave={props.onDone}>
        <div className="fields">
          <DayField label={say('act.on')} value={on} onChange={setOn} at="on" />
          <TextField label={say('act.code-there')} value={name} onChange={setName} at="code_there" code />
        </div>
      </Form>
    );
  return (
    <Form act={say('act.lend')} onSubmit={lend} problems={problems} busy={busy} onLeave={props.onDone}>
      <div className="fields">
        <ChooseRecord
          label={say('act.lend-to')}
          items={data?.persons ?? []}
          value={person}
          onChange={setPerson}
          at="lent_to"
        />
        {person === null ? <TextField label={say('act.new-person')} value={name} onChange={setName} at="name" /> : null}
        <DayField label={say('act.on')} value={on} onChange={setOn} at="on" />
      </div>
    </Form>
  );
}

function ExchangeForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const [other, setOther] = useState<string | null>(null);
  const [from, setFrom] = useState<Day | null>(null);
  const [noticed, setNoticed] = useState<Day | null>(today());
  const keep = async () => {
    const given = {
      one: idOf(props.leaf),
      other: other as Queen,
      exchanged_on: from as Day,
      noticed_on: noticed as Day,
      exchange_sure: 'known' as const,
    };
    done(await run(recordExchange, given, doing), say('act.exchanged'));
  };
  return (
    <Form act={say('act.exchange')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <p>{say('act.exchange-what')}</p>
      <div className="fields">
        <ChooseQueen label={say('act.other')} which="all" value={other} onChange={setOther} at="other" needed />
        <DayField label={say('act.exchanged-on')} value={from} onChange={setFrom} at="exchanged_on" needed />
        <DayField label={say('act.noticed-on')} value={noticed} onChange={setNoticed} at="noticed_on" needed />
      </div>
    </Form>
  );
}

function NoteForm(props: FormProps) {
  const { run, problems, busy, done } = useAct(props);
  const [words, setWords] = useState('');
  const keep = async () => {
    const note = { about_kind: 'queen', about: idOf(props.leaf), words, day: today() };
    done(await run(recordNote, note), say('act.noted'));
  };
  return (
    <Form act={say('act.note')} onSubmit={keep} problems={problems} busy={busy} onLeave={props.onDone}>
      <TextArea label={say('queen.note')} value={words} onChange={setWords} at="words" needed />
    </Form>
  );
}

const forms = {
  correct: CorrectForm,
  mark: MarkForm,
  move: MoveForm,
  mating: MatingForm,
  fate: FateForm,
  note: NoteForm,
  code: CodeForm,
  lend: LendForm,
  exchange: ExchangeForm,
} as const satisfies Record<string, (props: FormProps) => ReactNode>;
type ActName = keyof typeof forms;
const names = Object.keys(forms) as ActName[];

/** What can be done with this queen: one button an act, its form below. `E` corrects what is written. */
export function Acts({ leaf }: { leaf: QueenLeaf }) {
  const [open, setOpen] = useState<ActName | null>(null);
  useKeys(useMemo(() => ({ E: () => setOpen('correct') }), []));
  const Opened = open === null ? null : forms[open];
  return (
    <div className="stack">
      <div className="cluster" role="group" aria-label={say('leaf.acts')}>
        {names.map((name) => (
          <button
            type="button"
            key={name}
            className="button"
            aria-expanded={open === name}
            onClick={() => setOpen(open === name ? null : name)}
          >
            {name === 'lend' && leaf.lentTo !== null ? say('act.take-back') : sayAny(`acts.${name}`)}
            {name === 'correct' ? <kbd>E</kbd> : null}
          </button>
        ))}
      </div>
      {Opened === null ? null : (
        <div className="sheet">
          <Opened leaf={leaf} onDone={() => setOpen(null)} />
        </div>
      )}
    </div>
  );
}
