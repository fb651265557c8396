import { countBackCross } from '#actions/rearing/count-back.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { sayRefusals } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';

/** Says that the tasks were counted with other times than hold now, and counts them again with one press. */
export function CountAgain({ cross }: { cross: RecordId }) {
  const { run, busy } = useDo();
  const again = async () => {
    // Its sides are what they are: only the times changed.
    const did = await run(countBackCross, { cross, drones_there: true, virgins_there: true });
    tell('problems' in did ? sayRefusals(did.problems) : say('countback.counted-again'));
  };
  return (
    <p className="caution">
      {say('countback.stale')}{' '}
      <button type="button" className="button" aria-disabled={busy} onClick={() => void again()}>
        {say('countback.again')}
      </button>
    </p>
  );
}
