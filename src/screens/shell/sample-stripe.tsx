import { Button } from 'react-aria-components';
import { removeSample } from '#actions/sample/plant-sample.ts';
import { sample } from '#questions/edge/sample.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { tell } from '../parts/told.tsx';

/** Says on every page that the stock is made up, and takes it away in one act. */
export function SampleStripe() {
  const { data } = useAsk(sample, {});
  const { run, busy } = useDo();
  if (data?.stands !== true) return null;
  const remove = async () => {
    const did = await run(removeSample, {});
    if ('result' in did) tell(say('sample.removed'));
  };
  return (
    <aside className="sample-stripe" aria-label={say('sample.label')}>
      <p>
        <strong>{say('sample.label')}</strong> {say('sample.what')}
      </p>
      <Button className="button" isDisabled={busy} onPress={() => void remove()}>
        {say('sample.remove')}
      </Button>
    </aside>
  );
}
