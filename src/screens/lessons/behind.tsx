import { Link } from '@tanstack/react-router';
import { useEffect, useRef } from 'react';
import type { Behind, Factor } from '#questions/yard/lessons.ts';
import { groupBy } from '#units/group-by.ts';
import { say } from '#words/say.ts';
import { Code } from '../parts/identity-band.tsx';
import { groupName, sentence } from './lessons-words.ts';

const signs = { true: '●', false: '○', null: '◌' } as const;
const ends = { true: 'lessons.end.laying', false: 'lessons.end.no', null: 'lessons.end.open' } as const;

function Queen({ one }: { one: Behind }) {
  const key = String(one.laying) as keyof typeof signs;
  return (
    <li>
      <span aria-hidden="true">{signs[key]}</span>{' '}
      <Link to="/stock/queen/$id" params={{ id: one.id }}>
        <Code>{one.queen}</Code>
      </Link>{' '}
      <span className="soft">{say(ends[key])}</span>
    </li>
  );
}

/** Opens the group an address points at (`#behind-3`), also when a point of a plot is pressed. */
function useOpenByAddress() {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    const open = () => {
      const id = decodeURIComponent(location.hash.slice(1));
      const found = box.current?.querySelector<HTMLDetailsElement>(`details[id="${CSS.escape(id)}"]`);
      if (found == null) return;
      found.open = true;
      found.scrollIntoView({ block: 'nearest' });
      found.querySelector('summary')?.focus();
    };
    open();
    window.addEventListener('hashchange', open);
    return () => window.removeEventListener('hashchange', open);
  }, []);
  return box;
}

/** The queens behind each count, group by group. */
export function QueensBehind({ behind, by }: { behind: readonly Behind[]; by: Factor }) {
  const box = useOpenByAddress();
  const groups = [...groupBy(behind, ({ group }) => group)].sort(([a], [b]) => ((a ?? '￿') < (b ?? '￿') ? -1 : 1));
  return (
    <section className="stack tight" aria-labelledby="behind" ref={box}>
      <h2 id="behind">{say('lessons.behind')}</h2>
      {groups.map(([group, members]) => (
        <details className="behind" id={`behind-${group ?? ''}`} key={group ?? ''}>
          <summary>{sentence(say('lessons.behind-of', { what: groupName(by, group), n: members.length }))}</summary>
          <ul>
            {members.map((one) => (
              <Queen key={one.id + String(one.inseminated)} one={one} />
            ))}
          </ul>
        </details>
      ))}
    </section>
  );
}
