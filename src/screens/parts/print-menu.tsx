import { useMemo, useRef } from 'react';
import { say } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { useKeys } from '../shell/keys.ts';

/** One paper a page can print: what it is called, which paper, of what. */
export type Printable = { words: string; paper: string; input: object };

/** What a page can print, in one place; P opens it. */
export function PrintMenu({ papers }: { papers: readonly Printable[] }) {
  const menu = useRef<HTMLDetailsElement>(null);
  const open = () => {
    if (menu.current === null) return;
    menu.current.open = true;
    menu.current.querySelector('a')?.focus();
  };
  useKeys(useMemo(() => ({ P: open }), []));
  return (
    <details className="print-menu" ref={menu}>
      <summary className="button">
        {say('print.title')} <kbd>P</kbd>
      </summary>
      <ul>
        {papers.map(({ words, paper, input }) => (
          <li key={words}>
            <a href={withInput(`/api/paper/${paper}`, input)} target="_blank" rel="noreferrer">
              {words}
            </a>
          </li>
        ))}
      </ul>
    </details>
  );
}
