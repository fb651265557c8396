import { type ReactNode, useState } from 'react';
import { say, type WordId } from '#words/say.ts';

type Numbers<K extends string> = Record<K, number | null>;

/** Fields of numbers and what they give: worked out while it is typed, `null` while something is missing. */
export function useNumbers<K extends string>(start: Numbers<K>) {
  const [typed, setTyped] = useState(start);
  const field = (name: K) => ({
    value: typed[name],
    onChange: (value: number | null) => setTyped({ ...typed, [name]: value }),
  });
  return { typed, field };
}

/** One piece of laboratory arithmetic under its heading. */
export function Section({ id, title, children }: { id: string; title: WordId; children: ReactNode }) {
  return (
    <section className="stack tight laboratory" aria-labelledby={id}>
      <h2 id={id}>{say(title)}</h2>
      {children}
    </section>
  );
}

/** What comes of the figures above it, spoken when it changes. */
export const Answer = ({ children }: { children: ReactNode }) => (
  <p className="lead" role="status">
    {children}
  </p>
);

/** A share as per cent with one decimal. */
export const percent = (share: number): string => (share * 100).toFixed(1);
