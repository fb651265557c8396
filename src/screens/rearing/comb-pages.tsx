import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { noteDroneComb, recordDroneComb } from '#actions/rearing/record-drone-comb.ts';
import { type CombLeaf, combLeaf } from '#questions/rearing/comb-leaf.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { ChooseQueen, ChooseRecord } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { Form, TextField, useDraft } from '../parts/form.tsx';
import { PrintMenu } from '../parts/print-menu.tsx';
import { tell } from '../parts/told.tsx';
import { spanWords } from '../today/task-words.ts';
import { ChooseCross } from './choose-cross.tsx';
import { PlannedFor } from './planned-for.tsx';

type Draft = {
  code: string;
  mother: string | null;
  colony: string | null;
  holder: string | null;
  cross: string | null;
  in_on: Day | null;
  laid_from: Day | null;
  laid_to: Day | null;
  emerged_from: Day | null;
  emerged_to: Day | null;
  marked_how: string;
};

const empty: Draft = {
  code: '',
  mother: null,
  colony: null,
  holder: null,
  cross: null,
  in_on: null,
  laid_from: null,
  laid_to: null,
  emerged_from: null,
  emerged_to: null,
  marked_how: '',
};

const typed = (draft: Draft) => ({
  code: draft.code,
  mother: draft.mother as RecordId | null,
  colony: draft.colony as RecordId | null,
  holder: draft.holder as RecordId | null,
  cross: draft.cross as RecordId | null,
  in_on: draft.in_on,
  laid_from: draft.laid_from,
  laid_to: draft.laid_to,
  emerged_from: draft.emerged_from,
  emerged_to: draft.emerged_to,
  marked_how: draft.marked_how.trim() === '' ? null : draft.marked_how,
});

type FieldsProps = { draft: Draft; put: (some: Partial<Draft>) => void; under?: string };

function CombFields({ draft, put, under = '' }: FieldsProps) {
  const colonies = useAsk(chooseOthers, {}).data?.colonies ?? [];
  const days = [
    ['in_on', 'comb.in-on'],
    ['laid_from', 'comb.laid-from'],
    ['laid_to', 'comb.laid-to'],
    ['emerged_from', 'comb.emerged-from'],
    ['emerged_to', 'comb.emerged-to'],
  ] as const;
  return (
    <>
      <div className="fields">
        <TextField
          label={say('comb.code')}
          value={draft.code}
          onChange={(code) => put({ code })}
          at={`${under}code`}
          code
          needed
        />
        <ChooseQueen
          label={say('rearing.drone-mother')}
          hint={say('comb.one-mother')}
          value={draft.mother}
          onChange={(mother) => put({ mother })}
          at={`${under}mother`}
        />
        <ChooseCross label={say('rearing.for-cross')} value={draft.cross} onChange={(cross) => put({ cross })} />
        <ChooseRecord
          label={say('comb.colony')}
          items={colonies}
          value={draft.colony}
          onChange={(colony) => put({ colony })}
          at={`${under}colony`}
        />
        <ChooseRecord
          label={say('comb.holder')}
          hint={say('comb.holder-hint')}
          items={colonies}
          value={draft.holder}
          onChange={(holder) => put({ holder })}
          at={`${under}holder`}
        />
        <TextField
          label={say('comb.marked')}
          hint={say('comb.marked-hint')}
          value={draft.marked_how}
          onChange={(marked_how) => put({ marked_how })}
          at={`${under}marked_how`}
        />
      </div>
      <fieldset>
        <legend>{say('comb.days')}</legend>
        <div className="fields">
          {days.map(([field, words]) => (
            <DayField
              key={field}
              label={say(words)}
              value={draft[field]}
              onChange={(day) => put({ [field]: day })}
              at={`${under}${field}`}
            />
          ))}
        </div>
      </fieldset>
    </>
  );
}

/** Writes down a drone comb. */
export function NewCombPage() {
  const navigate = useNavigate();
  const { run, problems, busy } = useDo();
  const [draft, put, clear] = useDraft<Draft>('new-comb', { ...empty, in_on: today() });
  const submit = async () => {
    const did = await run(recordDroneComb, typed(draft), { happened: true });
    if ('problems' in did) return;
    clear();
    void navigate({ to: '/rearing/comb/$comb', params: { comb: did.result.id } });
  };
  return (
    <section className="stack">
      <h1>{say('rearing.new-comb')}</h1>
      <p>{say('comb.what')}</p>
      <Form
        act={say('comb.keep')}
        problems={problems}
        busy={busy}
        onSubmit={submit}
        onLeave={() => {
          clear();
          void navigate({ to: '/rearing' });
        }}
      >
        <CombFields draft={draft} put={put} />
      </Form>
    </section>
  );
}

const draftOf = ({ comb }: CombLeaf): Draft => ({
  ...empty,
  ...Object.fromEntries(Object.entries(comb).filter(([field, value]) => field in empty && value !== null)),
});

function Facts({ leaf }: { leaf: CombLeaf }) {
  const { line, ripe, hard, cross } = leaf;
  const seen = (words: string, isSeen: boolean) => (isSeen ? words : say('rearing.counted', { days: words }));
  return (
    <dl className="now">
      <div>
        <dt>{say('rearing.drone-mother')}</dt>
        <dd className="code">{line.who || say('comb.mother-unknown')}</dd>
      </div>
      <div>
        <dt>{say('rearing.where')}</dt>
        <dd>{line.where ?? say('comb.nowhere')}</dd>
      </div>
      <PlannedFor planned={leaf.planned === null ? [] : [leaf.planned]} done={leaf.comb.in_on} />
      {line.emerged === null ? null : (
        <div>
          <dt>{say('rearing.drones-emerge')}</dt>
          <dd>{seen(spanWords(line.emerged.from, line.emerged.to), line.emerged.seen)}</dd>
        </div>
      )}
      {ripe === null ? null : (
        <div>
          <dt>{say('rearing.best-age')}</dt>
          <dd>
            <strong>{spanWords(ripe.from, ripe.to)}</strong>
          </dd>
        </div>
      )}
      {hard === null ? null : (
        <div>
          <dt>{say('comb.usable')}</dt>
          <dd>{spanWords(hard.from, hard.to)}</dd>
        </div>
      )}
      {cross === null ? null : (
        <div>
          <dt>{say('rearing.for')}</dt>
          <dd>
            <Link to="/rearing/countback/$cross" params={{ cross: cross.id }}>
              {say('cross.title', { code: cross.code })}
            </Link>
          </dd>
        </div>
      )}
    </dl>
  );
}

function Leaf({ leaf }: { leaf: CombLeaf }) {
  const { run, problems, busy } = useDo();
  const [draft, put] = useDraft<Draft>(null, draftOf(leaf));
  const submit = async () => {
    const now = typed(draft);
    const set = Object.fromEntries(
      Object.entries(now).filter(([field, value]) => leaf.comb[field as keyof typeof now] !== value),
    );
    const did = await run(noteDroneComb, { comb: leaf.comb.id, set }, { happened: true });
    if (!('problems' in did)) tell(say('comb.kept', { code: draft.code }));
  };
  return (
    <article className="stack">
      <header className="cross-band">
        <h1>{say('comb.title', { code: leaf.comb.code })}</h1>
        {leaf.ripe === null ? null : (
          <div className="facts">
            <strong>{say('comb.ripe', { days: spanWords(leaf.ripe.from, leaf.ripe.to) })}</strong>
            {leaf.line.emerged === null ? null : (
              <span>{say('comb.out', { day: dayWords(leaf.line.emerged.from, today()) })}</span>
            )}
          </div>
        )}
        <PrintMenu
          papers={[
            { words: say('print.this-comb'), paper: 'comb-pins', input: { comb: leaf.comb.id, today: today() } },
          ]}
        />
      </header>
      <Facts leaf={leaf} />
      <h2>{say('comb.note')}</h2>
      <Form act={say('comb.keep')} problems={problems} busy={busy} onSubmit={submit}>
        <CombFields draft={draft} put={put} under="set." />
      </Form>
      <p>
        <Link to="/history/$record" params={{ record: leaf.comb.id }}>
          {say('comb.history')}
        </Link>
      </p>
    </article>
  );
}

/** The leaf of one drone comb. */
export function CombPage() {
  const { comb } = useParams({ strict: false });
  const query = useAsk(combLeaf, { comb: comb as RecordId, today: today() });
  return <Asked query={query}>{(leaf) => (leaf === null ? <p>{say('comb.unknown')}</p> : <Leaf leaf={leaf} />)}</Asked>;
}
