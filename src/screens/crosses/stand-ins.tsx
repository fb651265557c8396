import { changeCross } from '#actions/crosses/change-cross.ts';
import type { CrossSides } from '#questions/crosses/cross-sides.ts';
import { type SideStandIns, standIns } from '#questions/crosses/stand-ins.ts';
import type { RecordId } from '#units/record-id.ts';
import { figure } from '#words/queen-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { sayRefusals } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { SideQueenLine } from './sides.tsx';

type Suggested = SideStandIns['suggested'][number];
type TakeProps = { cross: RecordId; sides: CrossSides; side: SideStandIns['side'] };

/** One who could stand in, and the press that names her. */
function Suggestion({ queen, cross, sides, side }: TakeProps & { queen: Suggested }) {
  const { run, busy } = useDo();
  const code = queen.face.code ?? queen.face.called ?? '';
  const take = async () => {
    const named = sides.standIns.map((each) => ({ queen: each.face.id as RecordId, side: each.side }));
    const stand_ins = [...named, { queen: queen.face.id as RecordId, side }];
    const did = await run(changeCross, { cross, stand_ins });
    tell('problems' in did ? sayRefusals(did.problems) : say('stand-in.taken', { code }));
  };
  return (
    <li className="stand-in">
      <SideQueenLine queen={queen} />
      <span className="soft">
        {say('stand-in.related', { value: figure(queen.relatedness, 2) })}
        {queen.used ? ` · ${say('stand-in.used')}` : ''}
      </span>
      <button
        type="button"
        className="button"
        aria-disabled={busy}
        aria-label={say('stand-in.take-her', { code })}
        onClick={() => void take()}
      >
        {say('stand-in.take')}
      </button>
    </li>
  );
}

function OneSide({ told, ...rest }: { told: SideStandIns } & Omit<TakeProps, 'side'>) {
  const { side, named, wanted, suggested } = told;
  if (wanted === 0) return null;
  return (
    <div className="stack tight">
      <p>
        <strong>{sayAny(`stand-in.${side}`)}</strong> {say('stand-in.named', { named, wanted })}
      </p>
      {suggested.length === 0 ? (
        named < wanted ? (
          <p className="soft">{say('stand-in.nobody')}</p>
        ) : null
      ) : (
        <ul className="stand-ins" aria-label={sayAny(`stand-in.could-${side}`)}>
          {suggested.map((queen) => (
            <Suggestion key={queen.face.id} queen={queen} side={side} {...rest} />
          ))}
        </ul>
      )}
    </div>
  );
}

/** Three stand-ins for each queen the cross needs: how many are named and alive, and who else could be. */
export function StandInsSection({ cross, sides }: { cross: RecordId; sides: CrossSides }) {
  const { data } = useAsk(standIns, { cross, today: today() });
  if (data === undefined) return null;
  return (
    <section className="stack tight" aria-labelledby="who-could-stand-in">
      <h2 id="who-could-stand-in">{say('stand-in.title')}</h2>
      <p className="note">{say('stand-in.why')}</p>
      {data.map((told) => (
        <OneSide key={told.side} told={told} cross={cross} sides={sides} />
      ))}
    </section>
  );
}
