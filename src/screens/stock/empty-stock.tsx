import { Link } from '@tanstack/react-router';
import { actions } from '#actions/registry.ts';
import { say } from '#words/say.ts';
import { useDo } from '../link/use-do.ts';
import { Problems } from '../parts/problems.tsx';
import { MarkShape } from '../parts/queen-mark.tsx';

/** Three lines of a stock book as they will look, with invented codes. */
function DrawnBook() {
  const lines = [
    { colour: 'yellow', code: '27-014', behind: '25-003' },
    { colour: 'white', code: '26-009', behind: '24-031' },
    { colour: 'blue', code: '25-003', behind: null },
  ] as const;
  return (
    <ul className="drawn-book" aria-hidden="true">
      {lines.map(({ colour, code, behind }) => (
        <li key={code}>
          <span className="queen-mark">
            <MarkShape colour={colour} />
          </span>
          <span className="code">{code}</span>
          <span className="soft">{behind === null ? '┄┄' : `── ${behind}`}</span>
        </li>
      ))}
    </ul>
  );
}

function Sample() {
  const { run, problems, busy } = useDo();
  const plant = actions.get('plant-sample');
  if (plant === undefined) return null;
  return (
    <div className="door">
      <h2 className="door-title">{say('stock.door-sample')}</h2>
      <p>{say('stock.door-sample-what')}</p>
      <button type="button" className="button" aria-disabled={busy} onClick={() => void run(plant, {})}>
        {busy ? say('edge.looking') : say('stock.door-sample')}
      </button>
      <Problems problems={problems} title={say('form.not-kept')} />
    </div>
  );
}

/** Stock before anything is written down: what it answers, how it will look, and the doors in. */
export function EmptyStock() {
  return (
    <section className="empty">
      <p>{say('stock.empty')}</p>
      <DrawnBook />
      <div className="doors">
        <div className="door">
          <h2 className="door-title">{say('stock.door-bring')}</h2>
          <p>{say('stock.door-bring-what')}</p>
          <Link to="/stock/import" className="button main">
            {say('stock.door-bring')}
          </Link>
        </div>
        <div className="door">
          <h2 className="door-title">{say('stock.door-one')}</h2>
          <p>{say('stock.door-one-what')}</p>
          <Link to="/stock/new" className="button">
            {say('stock.door-one')}
          </Link>
        </div>
        <Sample />
      </div>
    </section>
  );
}
