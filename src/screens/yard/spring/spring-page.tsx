import '../../style/round.css';
import { Link } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { stepBack } from '#actions/history/step-back.ts';
import { checkLaying } from '#actions/yard/check-laying.ts';
import type { Sight } from '#domain/living/check.ts';
import { type Breaks, type SpringQueen, springRound } from '#questions/yard/spring-round.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say, type WordId } from '#words/say.ts';
import { viewing } from '../../bench/board/legibility.ts';
import { OutOfReach, withInput } from '../../link/server.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { Asked } from '../../parts/asked.tsx';
import { Code, calledOf } from '../../parts/identity-band.tsx';
import { sayRefusals } from '../../parts/problems.tsx';
import { StateShape } from '../../parts/state-sign.tsx';
import { tell } from '../../parts/told.tsx';
import { useKeys } from '../../shell/keys.ts';
import { QueenLink } from '../../stock/queen-link.tsx';
import { Caution } from '../cautions.tsx';
import { YardNav } from '../yard-nav.tsx';
import { lookWords } from '../yard-words.ts';

type Seen = { sights: Sight[]; queen_seen?: 'seen' | 'not-seen' };
type Choice = { words: WordId; saw: Seen };

/** The five things a spring check asks. */
const choices: readonly Choice[] = [
  { words: 'spring.seen', saw: { sights: [], queen_seen: 'seen' } },
  { words: 'spring.eggs-only', saw: { sights: ['eggs'], queen_seen: 'not-seen' } },
  { words: 'spring.another', saw: { sights: ['another-queen'] } },
  { words: 'spring.gone', saw: { sights: ['queen-gone'] } },
  { words: 'spring.not-opened', saw: { sights: ['not-opened'] } },
];

const figure = (value: number) => value.toFixed(2);

/** What a cross loses without her, and who stands in: "relatedness 0.09 instead of 0.06". */
function BreaksLine({ breaks, gone }: { breaks: Breaks; gone: boolean }) {
  const { cross, side, only, related, standIns } = breaks;
  const asked = { cross: cross.code, side, only: only ? 'yes' : 'no' };
  return (
    <li>
      {gone ? <strong>{say('spring.breaks', asked)}</strong> : say('spring.needs', asked)}{' '}
      {standIns.length === 0 ? `${say('spring.no-stand-in')} ` : null}
      {standIns.map(({ queen, related: instead }) => (
        <span key={queen.id}>
          {say('spring.stand-in', {
            code: calledOf(queen),
            n: instead === null || related === null ? 'none' : 'some',
            instead: figure(instead ?? 0),
            now: figure(related ?? 0),
          })}{' '}
        </span>
      ))}
      <Link to="/crosses/$cross" params={{ cross: cross.id }}>
        {say('spring.to-cross')}
      </Link>
    </li>
  );
}

type RowProps = { of: SpringQueen; busy: boolean; onSee: (of: SpringQueen, choice: Choice) => void };

/** One queen: her mark and code, her colony, what needs her, and five choices. */
function Row({ of, busy, onSee }: RowProps) {
  const { queen, nuc, looked, breaks, standsIn } = of;
  const gone = queen.living === 'gone';
  return (
    <li className="spring-row">
      <div className="spread">
        <span className="cluster">
          <QueenLink queen={queen} />
          {nuc === null ? (
            <span className="soft">{say('spring.stands-nowhere')}</span>
          ) : (
            <strong>
              <Code>{nuc.code}</Code> <span className="soft">{nuc.yard?.name}</span>
            </strong>
          )}
        </span>
        <span className="state-sign soft">
          <StateShape sign={gone ? 'cancelled' : looked === null ? 'planned' : 'done'} />
          {looked === null
            ? say('spring.not-checked')
            : say('spring.checked', { what: lookWords(looked), day: dayWords(looked.day, today()) })}
        </span>
      </div>
      <fieldset className="spring-choices">
        <legend className="visually-hidden">{calledOf(queen)}</legend>
        {choices.map((choice) => (
          <button
            key={choice.words}
            type="button"
            className="spring-choice"
            aria-disabled={busy}
            onClick={() => (busy ? undefined : onSee(of, choice))}
          >
            {say(choice.words)}
          </button>
        ))}
      </fieldset>
      <ul className="breaks">
        {standsIn.map((each) => (
          <li key={`${each.cross} ${each.side}`}>{say('spring.stands-in', each)}</li>
        ))}
        {breaks.map((each) => (
          <BreaksLine key={`${each.cross.id} ${each.side}`} breaks={each} gone={gone} />
        ))}
      </ul>
    </li>
  );
}

type Kept = { code: string; words: string; act: RecordId };

function useSeeing() {
  const { run, busy } = useDo();
  const [kept, setKept] = useState<readonly Kept[]>([]);
  const orTell = async (work: () => Promise<void>) => {
    try {
      await work();
    } catch (error) {
      if (!(error instanceof OutOfReach)) throw error;
      tell(say('edge.out-of-reach'));
    }
  };
  const see = ({ queen, nuc }: SpringQueen, { words, saw }: Choice) =>
    orTell(async () => {
      const input = { queen: queen.id as RecordId, ...(nuc === null ? {} : { colony: nuc.id }), day: today(), ...saw };
      const did = await run(checkLaying, input, { happened: true });
      if ('problems' in did) return tell(sayRefusals(did.problems));
      setKept((before) => [...before, { code: calledOf(queen), words: say(words), act: did.act }]);
    });
  const takeBack = () =>
    orTell(async () => {
      const last = kept.at(-1);
      if (last === undefined) return;
      const did = await run(stepBack, { act: last.act });
      if ('problems' in did) return tell(sayRefusals(did.problems));
      setKept((before) => before.slice(0, -1));
      tell(say('round.stepped-back', { code: last.code }));
    });
  return { see, takeBack, last: kept.at(-1), busy };
}

function Round({ queens }: { queens: readonly SpringQueen[] }) {
  const { see, takeBack, last, busy } = useSeeing();
  const done = queens.filter(({ looked, queen }) => looked !== null || queen.living === 'gone').length;
  return (
    <>
      <p role="status">{say('spring.count', { done, of: queens.length })}</p>
      <ul className="spring">
        {queens.map((of) => (
          <Row key={of.queen.id} of={of} busy={busy} onSee={(queen, choice) => void see(queen, choice)} />
        ))}
      </ul>
      <div className="step-back-bar">
        <button
          type="button"
          className="button round-button grows"
          disabled={last === undefined || busy}
          onClick={() => void takeBack()}
        >
          <span>
            {last === undefined ? (
              say('round.nothing-kept')
            ) : (
              <>
                <span className="note">{say('spring.kept', { code: last.code, what: last.words })}</span>
                <br />
                {say('round.step-back')}
              </>
            )}
          </span>
        </button>
      </div>
    </>
  );
}

function Empty() {
  return (
    <section className="empty">
      <p>{say('spring.empty')}</p>
      <p>{say('spring.empty-act')}</p>
      <Link to="/crosses" className="button main">
        {say('spring.plan')}
      </Link>
    </section>
  );
}

/** The spring check: only queens the coming crosses need, in walking order, and what breaks when one is gone. */
export function SpringPage() {
  const query = useAsk(springRound, { today: today() });
  const sheet = withInput('/api/paper/spring-sheet', { today: today() });
  useKeys(useMemo(() => ({ P: () => void window.open(sheet) }), [sheet]));
  return (
    <section className="stack" style={{ '--mm': `${viewing().pixelsPerMillimetre}px` } as React.CSSProperties}>
      <div className="spread">
        <h1>{say('spring.title')}</h1>
        <a href={sheet} target="_blank" rel="noreferrer" className="button">
          {say('spring.sheet')} <kbd>P</kbd>
        </a>
      </div>
      <YardNav />
      <p>{say('spring.lead')}</p>
      <Asked query={query}>{({ queens }) => (queens.length === 0 ? <Empty /> : <Round queens={queens} />)}</Asked>
      <Caution of="stings" />
    </section>
  );
}
