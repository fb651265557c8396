import { useState } from 'react';
import { type KinshipOfTwo, kinshipOfTwo } from '#questions/stock/kinship.ts';
import type { RecordId } from '#units/record-id.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { ChooseQueen } from '../../parts/choose-record.tsx';
import { AreaSquare } from '../area-square.tsx';
import { Assumptions } from '../assumptions.tsx';

function Told({ two }: { two: KinshipOfTwo }) {
  const { a, b, relationship, coancestry, broodOfA, broodOfB, assumptions } = two;
  if (relationship === null || coancestry === null) return <p role="alert">{say('kinship.cannot')}</p>;
  const brood = (queen: string, drones: string, value: number | null) => (
    <tr>
      <th scope="row">{say('kinship.brood-of', { queen, drones })}</th>
      <td>
        <AreaSquare value={value ?? 0} most={0.5} />
      </td>
      <td className="number">{value === null ? '–' : figure(value, 3)}</td>
    </tr>
  );
  return (
    <div className="stack tight" aria-live="polite">
      <table className="book kinship-told">
        <tbody>
          <tr>
            <th scope="row">{say('kinship.relationship')}</th>
            <td>
              <AreaSquare value={relationship} />
            </td>
            <td className="number">
              <strong>{figure(relationship, 3)}</strong>
            </td>
          </tr>
          <tr>
            <th scope="row">{say('kinship.coancestry')}</th>
            <td>
              <AreaSquare value={coancestry} most={0.5} />
            </td>
            <td className="number">{figure(coancestry, 3)}</td>
          </tr>
          {brood(a, b, broodOfA)}
          {brood(b, a, broodOfB)}
        </tbody>
      </table>
      <p className="note">{say('kinship.scale')}</p>
      <Assumptions assumptions={assumptions} />
    </div>
  );
}

/** How related this queen is to another one that is chosen here, with what the numbers rest on. */
export function KinshipBox({ queen }: { queen: RecordId }) {
  const [other, setOther] = useState<string | null>(null);
  const query = useAsk(kinshipOfTwo, { a: queen, b: (other ?? queen) as RecordId }, other !== null);
  return (
    <div className="stack tight">
      <ChooseQueen label={say('kinship.with')} which="all" value={other} onChange={setOther} />
      {other === null ? (
        <p className="note">{say('kinship.choose')}</p>
      ) : (
        <Asked query={query}>{(two) => <Told two={two} />}</Asked>
      )}
    </div>
  );
}
