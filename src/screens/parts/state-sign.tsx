import { sayAny } from '#words/say.ts';

/** What a task, a cross or a day is: each a shape of its own, so that no hue is needed. */
export type Sign = 'planned' | 'due' | 'done' | 'late' | 'cancelled' | 'running';

/** The drawn sign alone: an open ring, half filled, filled, barred, dashed, or a ring with a dot. */
export function StateShape({ sign }: { sign: Sign }) {
  return (
    <svg className="state-shape" viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">
      <circle cx="10" cy="10" r="7.5" className={sign === 'done' ? 'full' : sign === 'cancelled' ? 'dashed' : 'ring'} />
      {sign === 'due' ? <path d="M10 2.5a7.5 7.5 0 0 1 0 15Z" className="full" /> : null}
      {sign === 'late' ? <path d="M6 4.5v11M10 2.5v15M14 4.5v11" className="bars" /> : null}
      {sign === 'running' ? <circle cx="10" cy="10" r="2.5" className="full" /> : null}
    </svg>
  );
}

/** A sign with its word. */
export function StateSign({ sign, words }: { sign: Sign; words?: string }) {
  return (
    <span className="state-sign">
      <StateShape sign={sign} /> {words ?? sayAny(`sign.${sign}`)}
    </span>
  );
}
