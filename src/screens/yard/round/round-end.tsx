import { Link } from '@tanstack/react-router';
import { recordFate } from '#actions/stock/record-fate.ts';
import { takeExcluderOff } from '#actions/yard/take-excluder-off.ts';
import { verdictOf } from '#domain/living/check-verdict.ts';
import type { RoundAnswer, RoundNuc } from '#questions/yard/laying-round.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { Code, calledOf } from '../../parts/identity-band.tsx';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import type { Walk } from './round-state.ts';

/** Eggs were seen and the excluder is still on: one press takes it off. */
function Excluders({ nucs }: { nucs: readonly RoundNuc[] }) {
  const { run, problems, busy } = useDo();
  const waiting = nucs.filter(({ excluderOn, hasEggs, head }) => excluderOn && hasEggs && head !== null);
  if (waiting.length === 0) return null;
  const off = async () => {
    const queens = waiting.flatMap(({ head }) => (head === null ? [] : [head.id as RecordId]));
    const did = await run(takeExcluderOff, { queens, day: today() }, { happened: true });
    if (!('problems' in did)) tell(say('nursing.excluder-kept', { n: queens.length }));
  };
  return (
    <div className="caution">
      <p>{say('round.excluder', { code: waiting.map(({ code }) => code).join(', ') })}</p>
      <p>{say('nursing.excluders-lead')}</p>
      <button type="button" className="button round-button" aria-disabled={busy} onClick={() => void off()}>
        {say('nursing.excluders-off')}
      </button>
      <Problems problems={problems} title={say('form.not-kept')} />
    </div>
  );
}

/** Drone caps: the queen leaves the stock until it is confirmed; a person confirms it here or later. */
function DroneLayer({ nuc }: { nuc: RoundNuc }) {
  const { run, problems, busy } = useDo();
  const { head } = nuc;
  if (head === null) return null;
  const code = calledOf(head);
  const confirm = async () => {
    const fate = { queen: head.id as RecordId, kind: 'drone-layer', happened_on: today() } as const;
    const did = await run(recordFate, fate, { happened: true });
    if (!('problems' in did)) tell(say('round.drone-kept', { code }));
  };
  return (
    <div className="caution">
      <p>{say('round.drone-title', { code })}</p>
      <p>{say('round.drone-what')}</p>
      <button type="button" className="button round-button" aria-disabled={busy} onClick={() => void confirm()}>
        {say('round.drone-confirm')}
      </button>
      <Problems problems={problems} title={say('form.not-kept')} />
    </div>
  );
}

const layDrones = (nucs: readonly RoundNuc[]) =>
  nucs.filter(
    ({ lastLook, head }) => head?.living !== 'gone' && lastLook !== null && verdictOf(lastLook) === 'drone-layer',
  );

type EndProps = { walk: Walk; round: RoundAnswer; yard: RecordId | undefined; onAll: () => void };

/** The end of the walk: what was kept of each nuc, and what follows from it. */
export function RoundEnd({ walk, onAll }: EndProps) {
  const kept = new Map(walk.kept.map((each) => [each.nuc, each]));
  const left = walk.nucs.filter(({ id }) => !kept.has(id));
  return (
    <section className="stack">
      <h2>{say('round.done-title')}</h2>
      <p>{say('round.done', { n: kept.size, left: left.length })}</p>
      <Excluders nucs={walk.nucs} />
      {layDrones(walk.nucs).map((nuc) => (
        <DroneLayer nuc={nuc} key={nuc.id} />
      ))}
      <ul className="walked" aria-label={say('round.list')}>
        {walk.nucs.map((nuc, n) => (
          <li key={nuc.id}>
            <button type="button" className="button quiet" onClick={() => walk.go(n)}>
              <Code>{nuc.code}</Code>
            </button>
            <span>{kept.get(nuc.id)?.words ?? '–'}</span>
          </li>
        ))}
      </ul>
      <div className="cluster">
        <Link to="/yard" className="button main">
          {say('yard.yards')}
        </Link>
        <Link to="/bench/lessons" className="button">
          {say('lessons.title')}
        </Link>
        <button type="button" className="button" onClick={onAll}>
          {say('round.open-all')}
        </button>
      </div>
    </section>
  );
}
