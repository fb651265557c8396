import { Link } from '@tanstack/react-router';
import { actions } from '#actions/registry.ts';
import { say } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { Problems } from '../parts/problems.tsx';

/** A ruled sheet whose rows turn into marks. */
const DrawnSheet = () => (
  <svg viewBox="0 0 160 72" className="drawing" aria-hidden="true">
    <path d="M4 8h62v56H4ZM4 22h62M4 36h62M4 50h62M26 8v56M46 8v56" />
    <path d="M78 36h18m-7-7 7 7-7 7" />
    <circle cx="116" cy="20" r="7" />
    <path d="m116 36 8 14h-16Z" />
    <path d="M132 20h22M132 45h22M108 62h46" />
  </svg>
);

/** Days running backwards from one line. */
const DrawnCount = () => (
  <svg viewBox="0 0 160 72" className="drawing" aria-hidden="true">
    <path d="M132 6v60" className="heavy" />
    <path d="M12 22h64" />
    <path d="M76 16h56v12H76Z" className="filled" />
    <path d="M70 46h38" />
    <path d="M108 40h24v12h-24Z" className="filled" />
    <path d="M20 64h108m-100-5-8 5 8 5" />
  </svg>
);

/** A small yard of made-up nucs. */
const DrawnYard = () => (
  <svg viewBox="0 0 160 72" className="drawing" aria-hidden="true">
    {[10, 46, 82, 118].map((x) => (
      <path key={x} d={`M${x} 30h28v30h-28ZM${x - 3} 24h34v6h-34ZM${x + 9} 52h10v8`} />
    ))}
    <path d="M4 60h152" />
  </svg>
);

function Sample() {
  const { run, problems, busy } = useDo();
  const plant = actions.get('plant-sample');
  if (plant === undefined) return null;
  return (
    <li className="door">
      <DrawnYard />
      <h2>{say('doors.sample')}</h2>
      <p>{say('doors.sample-what')}</p>
      <Problems problems={problems} title={say('form.not-kept')} />
      <button type="button" className="button main" aria-disabled={busy} onClick={() => void run(plant, {})}>
        {busy ? say('edge.looking') : say('doors.sample-do')}
      </button>
    </li>
  );
}

/** The three ways into an empty book, side by side and of one size. */
export function Doors() {
  return (
    <section className="stack">
      <p className="lead">{say('doors.what')}</p>
      <ul className="three-doors">
        <li className="door">
          <DrawnSheet />
          <h2>{say('doors.bring')}</h2>
          <p>{say('doors.bring-what')}</p>
          <Link to="/stock/import" className="button main">
            {say('doors.bring-do')}
          </Link>
        </li>
        <li className="door">
          <DrawnCount />
          <h2>{say('doors.start')}</h2>
          <p>{say('doors.start-what')}</p>
          <Link to="/crosses/start" className="button main">
            {say('doors.start-do')}
          </Link>
        </li>
        <Sample />
      </ul>
    </section>
  );
}
