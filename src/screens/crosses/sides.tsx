import { Link } from '@tanstack/react-router';
import type { CrossSides, DronePart, SideQueen } from '#questions/crosses/cross-sides.ts';
import { shareWords } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { StateShape } from '../parts/state-sign.tsx';
import { QueenLink } from '../stock/queen-link.tsx';
import { livingWords } from './cross-words.ts';

/** A queen of a side: mark and code; a barred or dashed sign with its word when she is not surely there. */
export function SideQueenLine({ queen }: { queen: SideQueen }) {
  const words = livingWords(queen);
  return (
    <span className="side-queen">
      <QueenLink queen={queen.face} />
      {words === null ? null : (
        <span className={queen.face.living === 'gone' ? 'side-state gone' : 'side-state'}>
          <StateShape sign={queen.face.living === 'gone' ? 'cancelled' : 'planned'} /> {words}
        </span>
      )}
    </span>
  );
}

function DronePartLine({ part }: { part: DronePart }) {
  const { queen, group, line, share } = part;
  return (
    <span className="side-queen">
      {queen === null ? null : <SideQueenLine queen={queen} />}
      {group === null ? null : (
        <Link to="/stock/sisters/$id" params={{ id: group.id }}>
          {group.code} <span className="soft">× {group.size}</span>
        </Link>
      )}
      {line === null ? null : (
        <Link to="/stock/line/$id" params={{ id: line.id }}>
          {say('side.line', { line: line.name })}
        </Link>
      )}
      {share === null ? null : <span className="soft">{shareWords(share)}</span>}
    </span>
  );
}

const partKey = ({ queen, group, line }: DronePart) => queen?.face.id ?? group?.id ?? line?.id ?? '';

/** Both sides of a cross, short, for a list. */
export function SidesShort({ sides }: { sides: CrossSides }) {
  return (
    <span className="sides-short">
      <span className="side">
        {sides.dams.map((queen) => (
          <SideQueenLine key={queen.face.id} queen={queen} />
        ))}
      </span>
      <span className="times">×</span>
      <span className="side">
        {sides.drones.map((part) => (
          <DronePartLine key={partKey(part)} part={part} />
        ))}
      </span>
    </span>
  );
}

function StandIns({ sides, side }: { sides: CrossSides; side: 'queen' | 'drone' }) {
  const there = sides.standIns.filter((standIn) => standIn.side === side);
  return (
    <div>
      <h3>{say('cross.stand-ins')}</h3>
      {there.length === 0 ? (
        <p className="soft">{say('side.no-stand-in')}</p>
      ) : (
        <ul className="side-list">
          {there.map((queen) => (
            <li key={queen.face.id}>
              <SideQueenLine queen={queen} />
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** Both sides of a cross in full: who, with which share, whether they live, and who stands in. */
export function SidesInFull({ sides }: { sides: CrossSides }) {
  return (
    <div className="sides">
      <section>
        <h2>{say('cross.queen-side')}</h2>
        <ul className="side-list">
          {sides.dams.map((queen) => (
            <li key={queen.face.id}>
              <SideQueenLine queen={queen} />
            </li>
          ))}
        </ul>
        <StandIns sides={sides} side="queen" />
      </section>
      <section>
        <h2>{say('cross.drone-side')}</h2>
        <ul className="side-list">
          {sides.drones.map((part) => (
            <li key={partKey(part)}>
              <DronePartLine part={part} />
            </li>
          ))}
        </ul>
        <StandIns sides={sides} side="drone" />
      </section>
    </div>
  );
}
