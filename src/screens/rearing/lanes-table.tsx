import type { Growth, Lane, Lanes } from '#questions/rearing/lanes.ts';
import { say, sayAny } from '#words/say.ts';
import { spanWords } from '../today/task-words.ts';

const growths: readonly Growth[] = ['brood', 'immature', 'ripe', 'second', 'fading'];

/** What the strokes of a lane mean, drawn small. */
function Legend() {
  return (
    <ul className="lane-legend">
      {growths.map((growth) => (
        <li key={growth}>
          <svg viewBox="0 0 34 18" width="34" height="18" aria-hidden="true">
            {growth === 'brood' ? (
              <rect x="1" y="7" width="32" height="4" className="brood" />
            ) : (
              <rect x="1" y="1" width="32" height="16" className={growth} />
            )}
            {growth === 'immature' ? <path d="M3 16 14 2M11 16 22 2M19 16 30 2" className="hatch" /> : null}
          </svg>
          {sayAny(`growth.${growth}`)}
        </li>
      ))}
    </ul>
  );
}

function Rows({ lanes, side }: { lanes: readonly Lane[]; side: string }) {
  return lanes.map((lane) => (
    <tr key={lane.key}>
      <th scope="row">
        {side} {[lane.code, lane.who].filter(Boolean).join(' · ')}
        {lane.id === null ? <span className="soft"> ({say(lane.late > 0 ? 'sign.late' : 'sign.planned')})</span> : null}
      </th>
      {lane.parts.slice(0, 4).map(({ growth, from, to }) => (
        <td key={growth} data-label={sayAny(`growth.${growth}`)}>
          {spanWords(from, to)}
        </td>
      ))}
    </tr>
  ));
}

/** The lanes as a table, and what their strokes mean. */
export function LanesTable({ lanes }: { lanes: Lanes }) {
  return (
    <>
      <Legend />
      <details>
        <summary>{say('lanes.table')}</summary>
        <table className="book cards">
          <thead>
            <tr>
              <th scope="col">{say('lanes.what')}</th>
              {growths.slice(0, 4).map((growth) => (
                <th scope="col" key={growth}>
                  {sayAny(`growth.${growth}`)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            <Rows lanes={lanes.drones} side={say('lanes.drones')} />
            <Rows lanes={lanes.queens} side={say('lanes.queens')} />
          </tbody>
        </table>
      </details>
    </>
  );
}
