import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { useEffect } from 'react';
import { changeCross } from '#actions/crosses/change-cross.ts';
import { planCross } from '#actions/crosses/plan-cross.ts';
import { type CrossLeaf, crossLeaf } from '#questions/crosses/cross-leaf.ts';
import { crosses } from '#questions/crosses/crosses.ts';
import { profileChoices } from '#questions/rearing/profile-choices.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Did, useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { Form, useDraft } from '../parts/form.tsx';
import { sayHere } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { CrossFields } from './cross-fields.tsx';
import { type CrossDraft, draftOf, emptyCross, freeCode, NEW_CROSS, planTyped, wishTyped } from './cross-form.ts';
import { DatePreview } from './date-preview.tsx';
import { Outlook } from './outlook.tsx';

type Kept = Did<{ id: RecordId }>;

type FormProps = {
  draftKey: string;
  initial: CrossDraft;
  act: string;
  title: string;
  onKeep: (draft: CrossDraft) => Promise<Kept>;
  problems: ReturnType<typeof useDo>['problems'];
  busy: boolean;
  leaveTo: string;
};

/** The form of a plan, with what it would be and on which days standing beside it while it is typed. */
function PlanForm({ draftKey, initial, act, title, onKeep, problems, busy, leaveTo }: FormProps) {
  const [draft, put, clear] = useDraft<CrossDraft>(draftKey, initial);
  const navigate = useNavigate();
  useEffect(() => {
    if (draft.code === '' && initial.code !== '') put({ code: initial.code });
  }, [draft.code, initial.code, put]);
  const submit = async () => {
    const did = await onKeep(draft);
    if ('problems' in did) return;
    clear();
    if (did.warnings.length > 0) tell(did.warnings.map(sayHere).join(' '));
    void navigate({ to: '/crosses/$cross', params: { cross: did.result.id } });
  };
  const { data: choices } = useAsk(profileChoices, {});
  return (
    <section className="stack">
      <h1>{title}</h1>
      <div className="plan">
        <Form
          act={act}
          problems={problems}
          busy={busy}
          onSubmit={submit}
          onLeave={() => {
            clear();
            void navigate({ to: leaveTo });
          }}
        >
          <CrossFields draft={draft} put={put} choices={choices} />
        </Form>
        <aside className="stack beside" aria-label={say('cross.beside')}>
          <section className="stack tight">
            <h2>{say('cross.outlook')}</h2>
            <Outlook dams={draft.dams} sources={draft.sources} drones={draft.drones} />
          </section>
          <section className="stack tight">
            <h2>{say('cross.dates')}</h2>
            <DatePreview wish={wishTyped(draft, choices)} />
          </section>
        </aside>
      </div>
    </section>
  );
}

/** Plans a new cross. */
export function NewCrossPage() {
  const { run, problems, busy } = useDo();
  const { data } = useAsk(crosses, { today: today() });
  const code = freeCode((data?.crosses ?? []).filter(({ stage }) => stage !== 'given-up').map((each) => each.code));
  if (data === undefined) return null;
  return (
    <PlanForm
      draftKey={NEW_CROSS}
      initial={{ ...emptyCross, code }}
      title={say('cross.new')}
      act={say('cross.keep')}
      problems={problems}
      busy={busy}
      leaveTo="/crosses"
      onKeep={(draft) => run(planCross, planTyped(draft))}
    />
  );
}

function ChangeForm({ leaf }: { leaf: CrossLeaf }) {
  const { run, problems, busy } = useDo();
  const { id } = leaf.cross;
  const keep = (draft: CrossDraft) => {
    const { cross: set, ...sides } = planTyped(draft);
    return run(changeCross, { cross: id, set, ...sides });
  };
  return (
    <PlanForm
      draftKey={`cross-${id}`}
      initial={draftOf(leaf)}
      title={say('cross.change-title', { code: leaf.cross.code })}
      act={say('cross.keep-change')}
      problems={problems.map((problem) => ({ ...problem, path: problem.path.replace(/^set\./, 'cross.') }))}
      busy={busy}
      leaveTo={`/crosses/${id}`}
      onKeep={keep}
    />
  );
}

/** Changes a planned cross. */
export function ChangeCrossPage() {
  const { cross } = useParams({ strict: false });
  const query = useAsk(crossLeaf, { cross: cross as RecordId, today: today() });
  return (
    <Asked query={query}>
      {(leaf) =>
        leaf === null ? (
          <p>
            {say('cross.unknown')} <Link to="/crosses">{say('place.crosses')}</Link>
          </p>
        ) : (
          <ChangeForm leaf={leaf} />
        )
      }
    </Asked>
  );
}
