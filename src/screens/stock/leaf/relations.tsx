import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { QueenLeaf } from '#questions/stock/queen-leaf.ts';
import { say } from '#words/say.ts';
import { LivingState } from '../../parts/identity-band.tsx';
import { QueenLink } from '../queen-link.tsx';

const MOST = 24;

function Faces({
  queens,
  title,
  beside,
}: {
  queens: readonly QueenFace[];
  title: string;
  beside?: (face: QueenFace) => string | null;
}) {
  if (queens.length === 0) return null;
  const shown = queens.slice(0, MOST);
  return (
    <div className="stack tight">
      <h3>{title}</h3>
      <ul className="faces">
        {shown.map((face) => (
          <li key={face.id}>
            <QueenLink queen={face} /> <LivingState living={face.living} />
            {beside?.(face) == null ? null : <span className="note">{beside(face)}</span>}
          </li>
        ))}
        {queens.length > MOST ? <li className="soft">{say('descent.more', { n: queens.length - MOST })}</li> : null}
      </ul>
    </div>
  );
}

/** Her daughters and her sisters; sisters by the same drones are told from half sisters. */
export function Relations({ leaf }: { leaf: QueenLeaf }) {
  const full = new Set(leaf.sisters.filter((sister) => sister.full).map(({ face }) => face.id));
  const sisters = leaf.sisters.map(({ face }) => face);
  if (sisters.length === 0 && leaf.daughters.length === 0) return <p className="soft">{say('relations.none')}</p>;
  return (
    <div className="relations">
      <Faces queens={leaf.daughters} title={say('relations.daughters', { n: leaf.daughters.length })} />
      <Faces
        queens={sisters}
        title={say('relations.sisters', { n: sisters.length })}
        beside={({ id }) => (full.has(id) ? say('relations.same-drones') : say('relations.other-drones'))}
      />
    </div>
  );
}
