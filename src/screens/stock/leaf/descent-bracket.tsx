import { Link } from '@tanstack/react-router';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { DescentDrones, DescentQueen } from '#domain/stock-book/descent.ts';
import { shareWords, sonsWords } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { Code } from '../../parts/identity-band.tsx';
import { QueenMark } from '../../parts/queen-mark.tsx';

type Faces = Readonly<Record<string, QueenFace>>;

/** Several brothers side by side: never one father. */
export const BrothersShape = () => (
  <svg
    viewBox="0 0 44 24"
    width="44"
    height="24"
    aria-hidden="true"
    fill="none"
    stroke="currentColor"
    strokeWidth="1.6"
  >
    {[8, 20, 32].map((x) => (
      <g key={x}>
        <ellipse cx={x} cy="15" rx="4.6" ry="7" />
        <path d={`M${x - 4} 6.5a4 4 0 0 1 8 0Z`} fill="currentColor" />
      </g>
    ))}
  </svg>
);

function QueenBox({ at, faces, self }: { at: DescentQueen; faces: Faces; self: boolean }) {
  const face = faces[at.queen];
  return (
    <div className={self ? 'descent-box self' : 'descent-box'}>
      <span className="queen-link">
        {face === undefined ? null : <QueenMark year={face.year} mark={face.mark} />}
        {self || face === undefined ? (
          <strong>
            <Code>{at.name}</Code>
          </strong>
        ) : (
          <Link to="/stock/queen/$id" params={{ id: at.queen }}>
            <Code>{at.name}</Code>
          </Link>
        )}
      </span>
      <span className="note">
        {[
          at.sisters > 1 ? say('descent.sisters', { n: at.sisters }) : null,
          at.share === null || at.share > 0.995 ? null : say('descent.share', { share: shareWords(at.share) }),
          face?.line ?? null,
        ]
          .filter((words) => words !== null)
          .join(' · ')}
      </span>
    </div>
  );
}

const OpenEnd = ({ words }: { words: string }) => (
  <li className="open-end">
    <span className="soft">{words}</span>
  </li>
);

function Drones({ drones, faces }: { drones: DescentDrones; faces: Faces }) {
  return (
    <li className="drone-side">
      <div className="descent-box brothers">
        <span className="queen-link">
          <BrothersShape /> {say('descent.brothers')}
        </span>
        <span className="note">{sonsWords(drones.side)}</span>
      </div>
      {drones.mothers === undefined ? null : (
        <ul>
          {drones.mothers.map((mother) => (
            <Behind key={mother.queen} at={mother} faces={faces} />
          ))}
          {drones.more > 0 ? <OpenEnd words={say('descent.more', { n: drones.more })} /> : null}
          {drones.mothers.length === 0 ? <OpenEnd words={say('descent.drones-unknown')} /> : null}
        </ul>
      )}
    </li>
  );
}

function Parents({ at, faces }: { at: DescentQueen; faces: Faces }) {
  if (at.dam === undefined) return null;
  if (at.dam === null && at.drones === null)
    return (
      <ul>
        <OpenEnd words={say('descent.unknown')} />
      </ul>
    );
  return (
    <ul>
      {at.dam === null ? <OpenEnd words={say('descent.dam-unknown')} /> : <Behind at={at.dam} faces={faces} />}
      {at.drones == null ? (
        <OpenEnd words={say('descent.drones-unknown')} />
      ) : (
        <Drones drones={at.drones} faces={faces} />
      )}
    </ul>
  );
}

function Behind({ at, faces }: { at: DescentQueen; faces: Faces }) {
  return (
    <li>
      <QueenBox at={at} faces={faces} self={false} />
      <Parents at={at} faces={faces} />
    </li>
  );
}

/**
 * A queen's descent as a bracket read left to right: the queen side above, the drone side below as a group of brothers, whose
 * mothers stand one generation further back. What is not known is an open end.
 */
export function DescentBracket({ descent, faces }: { descent: DescentQueen; faces: Faces }) {
  return (
    <div className="descent" role="group" aria-label={say('descent.of', { code: descent.name })}>
      <QueenBox at={descent} faces={faces} self />
      <Parents at={descent} faces={faces} />
    </div>
  );
}
