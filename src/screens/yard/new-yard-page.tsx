import { useNavigate } from '@tanstack/react-router';
import { recordYard } from '#actions/stock/record-plain.ts';
import { say } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { Form, useDraft } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { newYard, YardFields, yardOf } from './yard-fields.tsx';
import { YardNav } from './yard-nav.tsx';

/** Writes down a yard. */
export function NewYardPage() {
  const navigate = useNavigate();
  const { run, problems, busy } = useDo();
  const [draft, put, clear] = useDraft('new-yard', newYard());
  const keep = async () => {
    const did = await run(recordYard, yardOf(draft));
    if ('problems' in did) return;
    clear();
    tell(say('yard.kept', { name: draft.name }));
    void navigate({ to: '/yard/yard/$id', params: { id: did.result.id } });
  };
  const leave = () => {
    clear();
    void navigate({ to: '/yard' });
  };
  return (
    <section className="stack">
      <h1>{say('yard.new')}</h1>
      <YardNav />
      <Form act={say('yard.keep')} onSubmit={keep} problems={problems} busy={busy} onLeave={leave}>
        <YardFields draft={draft} put={put} at="" />
      </Form>
    </section>
  );
}
