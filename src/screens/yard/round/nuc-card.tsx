import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { RoundAnswer, RoundNuc } from '#questions/yard/laying-round.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { Code, calledOf } from '../../parts/identity-band.tsx';
import { markWords, QueenMark } from '../../parts/queen-mark.tsx';
import { lookWords, nextWords } from '../yard-words.ts';

/** Late or normally late, in words and counts. */
export function ruleWords({ rule, hasEggs }: Pick<RoundNuc, 'rule' | 'hasEggs'>): string | null {
  if (rule === null) return null;
  const { day, laying, of, lateness } = rule;
  if (hasEggs) return say('round.rule-lays', { day });
  if (of === 0) return say('round.rule-none', { day });
  const late = { late: 'late', 'very-late': 'very', 'in-time': 'no', 'too-few': 'no' }[lateness];
  return say('round.rule', { day, laying, of, late });
}

/** The two facts to match before anything is kept: the mark on her back and her code, and the number of the nuc. */
export function TwoFacts({ nuc, queen }: { nuc: Pick<RoundNuc, 'code' | 'yard'>; queen: QueenFace }) {
  return (
    <div className="two-facts">
      <p className="nuc-number">
        <span className="soft">{nuc.yard?.name}</span> <Code>{nuc.code}</Code>
      </p>
      <p className="her-facts">
        <QueenMark year={queen.year} mark={queen.mark} large />
        <strong>
          <Code>{calledOf(queen)}</Code>
        </strong>
      </p>
    </div>
  );
}

/** What is known of the nuc before it is opened. */
export function NucFacts({ nuc }: { nuc: RoundNuc; past?: RoundAnswer['past'] }) {
  const { inseminated, lastLook, next } = nuc;
  const rule = ruleWords(nuc);
  return (
    <div className="nuc-facts">
      {rule === null ? null : (
        <p className={nuc.rule?.lateness === 'in-time' || nuc.hasEggs ? 'rule' : 'rule late'}>
          {rule} {inseminated?.cross == null ? '' : `(${say('round.cross', { cross: inseminated.cross })})`}
        </p>
      )}
      <p>
        {lastLook === null
          ? say('round.never')
          : say('round.last', { what: lookWords(lastLook), day: dayWords(lastLook.day, today()) })}{' '}
        {next === null ? null : <strong>{say('round.what-next', { what: nextWords(next) })}</strong>}
      </p>
    </div>
  );
}

/** How she is looked for: "yellow, 2027, disc 5". */
export const lookedFor = (queen: QueenFace): string => markWords(queen);
