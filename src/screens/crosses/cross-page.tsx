import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { useMemo } from 'react';
import { cancelCross } from '#actions/crosses/cancel-cross.ts';
import { type CrossLeaf, crossLeaf } from '#questions/crosses/cross-leaf.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { sayRefusals } from '../parts/problems.tsx';
import { StateSign } from '../parts/state-sign.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { TaskList } from '../today/task-row.tsx';
import { draftOf } from './cross-form.ts';
import { CrossQueens } from './cross-queens.tsx';
import { dayAndDistance, stageSign, stageWords } from './cross-words.ts';
import { Outlook } from './outlook.tsx';
import { SidesInFull } from './sides.tsx';
import { StandInsSection } from './stand-ins.tsx';

/** The address of a cross's slip on paper. */
const slipOf = (cross: string) => withInput('/api/paper/cross-slip', { cross, today: today() });

function Band({ leaf }: { leaf: CrossLeaf }) {
  const { cross, stage, count } = leaf;
  return (
    <header className="cross-band">
      <h1>{say('cross.title', { code: cross.code })}</h1>
      <div className="facts">
        <strong>{cross.inseminate_on === null ? say('cross.no-day') : dayAndDistance(cross.inseminate_on)}</strong>
        <span>{say('cross.wanted', { n: cross.queens_wanted, dose: cross.dose_ul })}</span>
      </div>
      <StateSign sign={stageSign(stage)} words={stageWords(stage, count)} />
    </header>
  );
}

function Acts({ leaf }: { leaf: CrossLeaf }) {
  const { id, code, cancelled } = leaf.cross;
  const navigate = useNavigate();
  const { run } = useDo();
  useKeys(
    useMemo(
      () => ({
        E: () => void navigate({ to: '/crosses/$cross/change', params: { cross: id } }),
        P: () => void window.open(slipOf(id), '_blank', 'noopener'),
      }),
      [id, navigate],
    ),
  );
  const giveUp = async () => {
    const did = await run(cancelCross, { cross: id });
    tell('problems' in did ? sayRefusals(did.problems) : say('cross.given-up', { code }));
  };
  if (cancelled === 1) return <p>{say('cross.is-given-up')}</p>;
  return (
    <div className="cluster">
      <Link to="/rearing/countback/$cross" params={{ cross: id }} className="button main">
        {say('cross.to-countback')}
      </Link>
      <a href={slipOf(id)} target="_blank" rel="noreferrer" className="button">
        {say('cross.slip')} <kbd>P</kbd>
      </a>
      <Link to="/crosses/$cross/change" params={{ cross: id }} className="button">
        {say('cross.change')} <kbd>E</kbd>
      </Link>
      <button type="button" className="button" onClick={() => void giveUp()}>
        {say('cross.give-up')}
      </button>
    </div>
  );
}

const isOpen = ({ state }: CrossLeaf['tasks'][number]) => state !== 'done' && state !== 'cancelled';

function Tasks({ leaf }: { leaf: CrossLeaf }) {
  const open = leaf.tasks.filter(isOpen);
  return (
    <section className="stack tight">
      <h2>{say('cross.next-tasks')}</h2>
      {open.length === 0 ? (
        <p className="soft">{say('cross.no-tasks')}</p>
      ) : (
        <TaskList tasks={open.slice(0, 4)} withoutCross />
      )}
      {open.length > 4 ? (
        <Link to="/rearing/countback/$cross" params={{ cross: leaf.cross.id }}>
          {say('cross.all-tasks', { n: leaf.tasks.length })}
        </Link>
      ) : null}
    </section>
  );
}

function Raised({ leaf }: { leaf: CrossLeaf }) {
  const { combs, bars } = leaf;
  if (combs.length + bars.length === 0) return null;
  return (
    <p>
      {combs.map(({ id, code }) => (
        <Link key={id} to="/rearing/comb/$comb" params={{ comb: id }}>
          {say('cross.comb', { code })}{' '}
        </Link>
      ))}
      {bars.map(({ id, code }) => (
        <Link key={id} to="/rearing/graft/$graft" params={{ graft: id }}>
          {say('cross.bar', { code })}{' '}
        </Link>
      ))}
    </p>
  );
}

function Leaf({ leaf }: { leaf: CrossLeaf }) {
  const { cross } = leaf;
  const draft = draftOf(leaf);
  return (
    <article className="stack">
      <Band leaf={leaf} />
      {cross.purpose === null ? null : <p className="lead">{cross.purpose}</p>}
      {cross.latest_on === null ? null : (
        <p className="soft">{say('cross.latest-day', { day: dayWords(cross.latest_on, today()) })}</p>
      )}
      <Acts leaf={leaf} />
      <div className="two-columns">
        <div className="stack">
          <SidesInFull sides={leaf.sides} />
          {cross.cancelled === 1 ? null : <StandInsSection cross={cross.id} sides={leaf.sides} />}
          <Raised leaf={leaf} />
          <section className="stack tight">
            <h2>{say('cross.outlook')}</h2>
            <Outlook dams={draft.dams} sources={draft.sources} drones={draft.drones} />
          </section>
        </div>
        <Tasks leaf={leaf} />
      </div>
      <CrossQueens queens={leaf.queens} day={cross.inseminate_on} />
      <p>
        <Link to="/history/$record" params={{ record: cross.id }}>
          {say('cross.history')}
        </Link>
      </p>
    </article>
  );
}

/** The leaf of one cross: who with whom and whether they live, what is next, what it would be, its queens and their checks. */
export function CrossPage() {
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
          <Leaf leaf={leaf} />
        )
      }
    </Asked>
  );
}
