import { useEffect, useState } from 'react';
import type { BoardAnswer } from '#questions/bench/bench-board.ts';
import { say } from '#words/say.ts';
import { keptFact, keptKeys } from '../link/outbox/kept.ts';
import { dayWords } from '../parts/day-words.tsx';

type KeptBoard = { path: string; cross: string; day: string };

async function keptBoards(): Promise<KeptBoard[]> {
  const keys = await keptKeys('board ').catch(() => []);
  const boards = await Promise.all(keys.map((key) => keptFact<{ board: BoardAnswer }>(key)));
  return boards
    .flatMap((kept) => (kept === null ? [] : [kept.board]))
    .map(({ day, cross }) => ({ path: `/bench/${day.id}/board/${cross.id}`, cross: cross.code, day: day.day }))
    .sort((a, b) => (a.day < b.day ? 1 : -1))
    .slice(0, 6);
}

/** While the server is away: the boards this device can open from what it kept, the newest first. */
export function KeptBoards() {
  const [boards, setBoards] = useState<readonly KeptBoard[]>([]);
  useEffect(() => void keptBoards().then(setBoards), []);
  if (boards.length === 0) return null;
  return (
    <section className="stack tight">
      <h2>{say('bench.kept')}</h2>
      <p>{say('bench.kept.how')}</p>
      <ul className="plain-list">
        {boards.map(({ path, cross, day }) => (
          <li key={path}>
            <a href={path} className="button main">
              {say('bench.board-of', { cross })} · {dayWords(day as never)}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
