import '../../style/round.css';
import { Link, useParams } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { stepBack } from '#actions/history/step-back.ts';
import { checkLaying } from '#actions/yard/check-laying.ts';
import type { Sight } from '#domain/living/check.ts';
import { askAbout } from '#domain/living/check-verdict.ts';
import { layingRound, type RoundAnswer, type RoundNuc } from '#questions/yard/laying-round.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { viewing } from '../../bench/board/legibility.ts';
import { OutOfReach, withInput } from '../../link/server.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { Asked } from '../../parts/asked.tsx';
import { sayRefusals } from '../../parts/problems.tsx';
import { markWords } from '../../parts/queen-mark.tsx';
import { tell } from '../../parts/told.tsx';
import { useKeys } from '../../shell/keys.ts';
import { Caution } from '../cautions.tsx';
import { YardNav } from '../yard-nav.tsx';
import { lookWords } from '../yard-words.ts';
import { EarlyEggs } from './early-eggs.tsx';
import { FramePhoto } from './frame-photo.tsx';
import { LayingClock } from './laying-clock.tsx';
import { type More, MoreSights } from './more-sights.tsx';
import { NucFacts, TwoFacts } from './nuc-card.tsx';
import { type Another, OtherQueen } from './other-queen.tsx';
import { RoundEnd } from './round-end.tsx';
import { useWalk, type Walk } from './round-state.ts';
import { SightChoices } from './sight-choices.tsx';
import { useSwipe } from './use-swipe.ts';

/** What is asked about the nuc in hand before anything is kept. */
type Asking = 'other' | 'early' | 'more' | null;
type Given = More & { queen_seen?: 'seen'; another?: Another };

const isEarly = (nuc: RoundNuc, sights: readonly Sight[]): boolean =>
  askAbout({ day: today(), sights, queenSeen: null }, nuc.inseminated?.on ?? null).some(
    ({ code }) => code === 'eggs-too-early',
  );

/** Keeps looks at nucs and takes the last back; what cannot be kept is told and the nuc stays in hand. */
function useKeeping(walk: Walk) {
  const { run, busy } = useDo();
  const orTell = async (work: () => Promise<void>) => {
    try {
      await work();
    } catch (error) {
      if (!(error instanceof OutOfReach)) throw error;
      tell(say('edge.out-of-reach'));
    }
  };
  const keep = (nuc: RoundNuc, given: Given) =>
    orTell(async () => {
      const input = { colony: nuc.id, queen: nuc.head?.id as RecordId, day: today(), ...given };
      const did = await run(checkLaying, input, { happened: true });
      if ('problems' in did) return tell(sayRefusals(did.problems));
      const words = lookWords({ sights: given.sights, queenSeen: given.queen_seen ?? null });
      walk.keep({ nuc: nuc.id, code: nuc.code, words, act: did.act });
      walk.go(walk.at + 1);
    });
  const takeBack = () =>
    orTell(async () => {
      const last = walk.kept.at(-1);
      if (last === undefined) return;
      const did = await run(stepBack, { act: last.act });
      if ('problems' in did) return tell(sayRefusals(did.problems));
      walk.takeBack(last.act);
      walk.go(walk.nucs.findIndex(({ id }) => id === last.nuc));
      tell(say('round.stepped-back', { code: last.code }));
    });
  return { keep, takeBack, busy };
}

function StepBackBar({ walk, onBack, busy }: { walk: Walk; onBack: () => void; busy: boolean }) {
  const last = walk.kept.at(-1);
  return (
    <div className="step-back-bar">
      <button
        type="button"
        className="button round-button"
        disabled={walk.at === 0}
        onClick={() => walk.go(walk.at - 1)}
        aria-label={say('round.back-one')}
      >
        ←
      </button>
      <button
        type="button"
        className="button round-button grows"
        disabled={last === undefined || busy}
        onClick={onBack}
        title={say('round.step-back')}
      >
        <span>
          {last === undefined ? (
            say('round.nothing-kept')
          ) : (
            <>
              <span className="note">{say('round.last-kept', { code: last.code, what: last.words })}</span>
              <br />
              {say('round.step-back')}
            </>
          )}
        </span>
      </button>
      <button
        type="button"
        className="button round-button"
        disabled={walk.at >= walk.nucs.length}
        onClick={() => walk.go(walk.at + 1)}
        aria-label={say('round.on-one')}
      >
        →
      </button>
    </div>
  );
}

type InHandProps = { nuc: RoundNuc; round: RoundAnswer; busy: boolean; onKeep: (given: Given) => void };

/** The nuc in hand: its two facts, what is known, and the drawn choices. One press keeps and moves on. */
function NucInHand({ nuc, round, busy, onKeep }: InHandProps) {
  const [asking, setAsking] = useState<Asking>(null);
  const [pending, setPending] = useState<More>({ sights: [] });
  const [seen, setSeen] = useState(false);
  const { head } = nuc;
  if (head === null) return null;
  const keep = (more: More, beside: Partial<Given> = {}) =>
    onKeep({ ...more, ...(seen ? { queen_seen: 'seen' as const } : {}), ...beside });
  const given = (more: More) => {
    setPending(more);
    if (more.sights.includes('another-queen')) setAsking('other');
    else if (!seen && isEarly(nuc, more.sights)) setAsking('early');
    else keep(more);
  };
  const clock = round.clocks.find(({ key }) => key === nuc.clock);
  if (asking === 'other')
    return (
      <OtherQueen
        onKeep={(another) =>
          onKeep({ ...pending, sights: ['another-queen'], ...(another === undefined ? {} : { another }) })
        }
        onLeave={() => setAsking(null)}
      />
    );
  if (asking === 'early')
    return (
      <EarlyEggs
        days={nuc.inseminated?.days ?? 0}
        queen={head}
        onSame={() => keep(pending, { queen_seen: 'seen' })}
        onOther={() => setAsking('other')}
        onUnsure={() => keep(pending)}
        onLeave={() => setAsking(null)}
      />
    );
  if (asking === 'more') return <MoreSights code={nuc.code} onKeep={given} onLeave={() => setAsking(null)} />;
  return (
    <div className="in-hand">
      <div className="nuc-choices">
        <NucFacts nuc={nuc} />
        <button type="button" className="seen-toggle" aria-pressed={seen} onClick={() => setSeen((was) => !was)}>
          {say('round.seen', { mark: markWords(head) })}
        </button>
        <SightChoices
          label={say('round.choices', { code: nuc.code })}
          busy={busy}
          onChoose={(sight) => given({ sights: [sight] })}
        />
        <div className="cluster">
          <button type="button" className="button round-button" onClick={() => setAsking('more')}>
            {say('round.more')}
          </button>
          <FramePhoto queen={head.id as RecordId} />
        </div>
      </div>
      {clock === undefined ? null : <LayingClock nuc={nuc} clock={clock} past={round.past} />}
    </div>
  );
}

function Walking({ round, yard }: { round: RoundAnswer; yard: RecordId | undefined }) {
  const walk = useWalk(round);
  const { keep, takeBack, busy } = useKeeping(walk);
  const swipe = useSwipe({ onLeft: () => walk.go(walk.at + 1), onRight: () => walk.go(walk.at - 1) });
  useKeys({ ArrowLeft: () => walk.go(walk.at - 1), ArrowRight: () => walk.go(walk.at + 1) });
  const { nuc } = walk;
  const all = () => walk.begin(round.nucs.map(({ id }) => id));
  if (walk.nucs.length === 0) return <NothingDue nucs={round.nucs.length} onAll={all} />;
  return (
    <div className="round" {...swipe}>
      {nuc === null ? (
        <RoundEnd walk={walk} round={round} onAll={all} yard={yard} />
      ) : (
        <article className="nuc-in-hand" key={nuc.id}>
          <p className="round-at">
            {say('round.of-yard', {
              n: walk.at + 1,
              of: walk.nucs.length,
              yard: nuc.yard?.name ?? say('yard.no-yard'),
            })}
            {walk.isKept(nuc.id) ? ' ●' : ''}
          </p>
          {nuc.head === null ? null : <TwoFacts nuc={nuc} queen={nuc.head} />}
          <NucInHand nuc={nuc} round={round} busy={busy} onKeep={(given) => void keep(nuc, given)} />
        </article>
      )}
      <StepBackBar walk={walk} onBack={() => void takeBack()} busy={busy} />
    </div>
  );
}

function NothingDue({ nucs, onAll }: { nucs: number; onAll: () => void }) {
  return (
    <section className="empty">
      <p>{say('round.empty')}</p>
      <p>{say('round.empty-act')}</p>
      {nucs === 0 ? (
        <Link to="/yard" className="button main">
          {say('yard.yards')}
        </Link>
      ) : (
        <button type="button" className="button main" onClick={onAll}>
          {say('round.open-all')}
        </button>
      )}
    </section>
  );
}

/** The laying round: one nuc a screen, in walking order. */
export function RoundPage() {
  const { yard } = useParams({ strict: false }) as { yard?: string };
  const asked = { today: today(), ...(yard === undefined ? {} : { yard: yard as RecordId }) };
  const query = useAsk(layingRound, asked);
  const sheet = withInput('/api/paper/round-sheet', asked);
  useKeys(useMemo(() => ({ P: () => void window.open(sheet) }), [sheet]));
  return (
    <section
      className="stack round-page"
      style={{ '--mm': `${viewing().pixelsPerMillimetre}px` } as React.CSSProperties}
    >
      <div className="spread">
        <h1>{say('round.title')}</h1>
        <div className="cluster">
          <a href={sheet} target="_blank" rel="noreferrer" className="button">
            {say('yard.sheet')} <kbd>P</kbd>
          </a>
          <Link to="/yard/round/enter" className="button">
            {say('round.enter')}
          </Link>
        </div>
      </div>
      <YardNav />
      <Asked query={query}>{(round) => <Walking round={round} yard={asked.yard} key={yard ?? 'all'} />}</Asked>
      <Caution of="stings" />
    </section>
  );
}
