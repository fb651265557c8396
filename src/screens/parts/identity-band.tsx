import '../style/queen-mark.css';
import type { ReactNode } from 'react';
import type { QueenFace, Stand } from '#domain/marking/queen-face.ts';
import { say, sayAny } from '#words/say.ts';
import { QueenMark } from './queen-mark.tsx';

/** A code in the mono face, read and copied as it is written. */
export const Code = ({ children }: { children: string }) => <span className="code">{children}</span>;

/** How a queen is called: her code, or bar and cell, or that nothing is known. */
export const calledOf = ({ code, called }: Pick<QueenFace, 'code' | 'called'>): string =>
  code ?? called ?? say('queen.no-code');

/** Where a queen stands, in words: "Nuc 7, Home yard", "cage 12". */
export function standsWords(stands: Stand | null): string {
  if (stands === null) return say('queen.stands-nowhere');
  if (stands.in === 'cage') return say('queen.in-cage', { number: stands.name });
  return stands.yard === null ? stands.name : say('queen.in-colony', { colony: stands.name, yard: stands.yard });
}

const signs = { alive: '●', gone: '◌', unknown: '◐' } as const;

/** Living state as shape and word. */
export function LivingState({ living, words }: { living: QueenFace['living']; words?: string | undefined }) {
  return (
    <span className="state">
      <span aria-hidden="true">{signs[living]}</span> {words ?? sayAny(`living.${living}`)}
    </span>
  );
}

type BandProps = {
  queen: QueenFace;
  /** More precise than the bare state: "died 3 Aug 2027". */
  state?: string;
  /** Address of a small picture of her. */
  photo?: string | undefined;
  /** More facts, and what can be done with her. */
  children?: ReactNode;
};

/** The band every leaf of a queen begins with: mark and disc large, code, line, where she stands, living state. */
export function IdentityBand({ queen, state, photo, children }: BandProps) {
  return (
    <header className="identity">
      <QueenMark year={queen.year} mark={queen.mark} large />
      <h1>
        <Code>{calledOf(queen)}</Code>
      </h1>
      <div className="facts">
        {queen.line === null ? null : <span>{say('queen.line-named', { line: queen.line })}</span>}
        <span>{standsWords(queen.stands)}</span>
        <LivingState living={queen.living} words={state} />
      </div>
      {photo === undefined ? null : (
        <img className="photo" src={photo} alt={say('queen.photo-of', { code: calledOf(queen) })} />
      )}
      {children}
    </header>
  );
}
