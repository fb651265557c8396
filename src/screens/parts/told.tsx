import { useSyncExternalStore } from 'react';

let told: { words: string; n: number } = { words: '', n: 0 };
const listeners = new Set<() => void>();

/** Says something quietly at the foot of the page; screen readers speak it. */
export function tell(words: string): void {
  told = { words, n: told.n + 1 };
  for (const heard of listeners) heard();
}

function listen(heard: () => void): () => void {
  listeners.add(heard);
  return () => listeners.delete(heard);
}

/** What was told last. */
export function Told() {
  const { words, n } = useSyncExternalStore(listen, () => told);
  return (
    <div className={words === '' ? 'visually-hidden' : 'told'} role="status" key={n}>
      {words}
      {words === '' ? null : (
        <button type="button" className="button quiet" onClick={() => tell('')}>
          ✕<span className="visually-hidden">close</span>
        </button>
      )}
    </div>
  );
}
