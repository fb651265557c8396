import { say } from '#words/say.ts';

/** What this place answers, with a small drawn example, before the first day at the microscope. */
export function EmptyBench({ onOpen }: { onOpen: () => void }) {
  return (
    <div className="empty">
      <p>{say('bench.empty')}</p>
      <svg viewBox="0 0 360 120" className="example" role="img" aria-label={say('bench.empty-drawing')}>
        <g fill="none" stroke="currentColor" strokeWidth="2">
          <rect x="4" y="4" width="352" height="112" />
          <path d="M4 30H356M4 86H356" />
          <rect x="120" y="11" width="110" height="12" />
        </g>
        <rect x="121" y="12" width="70" height="10" fill="currentColor" />
        <g fill="currentColor">
          <text x="12" y="23" fontSize="13">
            B
          </text>
          <text x="12" y="70" fontSize="34" fontWeight="700">
            27-014
          </text>
          <text x="250" y="70" fontSize="34" fontWeight="700">
            8.0
          </text>
          <text x="12" y="106" fontSize="16">
            ● ● ● ● ● ● ◐ ○ ○ ○ ○ ○
          </text>
        </g>
      </svg>
      <button type="button" className="button main" onClick={onOpen}>
        {say('bench.nav.open')}
      </button>
    </div>
  );
}
