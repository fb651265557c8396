import { crosses } from '#questions/crosses/crosses.ts';
import { dayWords } from '#words/day-words.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Choosable, ChooseRecord } from '../parts/choose-record.tsx';

type ChooseCrossProps = {
  label: string;
  value: string | null;
  onChange: (id: string | null) => void;
  at?: string;
  hint?: string;
};

/** Chooses a cross that is not given up, by its code; its day and sides stand beside it. */
export function ChooseCross(props: ChooseCrossProps) {
  const { data } = useAsk(crosses, { today: today() });
  const items = (data?.crosses ?? [])
    .filter(({ stage }) => stage !== 'given-up')
    .map(
      ({ id, code, day, sides }): Choosable => ({
        id,
        code,
        beside: [day === null ? '' : dayWords(day, today()), ...sides.dams.map(({ face }) => face.code ?? '')]
          .filter(Boolean)
          .join(' · '),
      }),
    );
  return <ChooseRecord {...props} items={items} />;
}
