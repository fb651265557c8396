import { useState } from 'react';
import type { Sight } from '#domain/living/check.ts';
import { askAbout } from '#domain/living/check-verdict.ts';
import type { RoundAnswer, RoundNuc } from '#questions/yard/laying-round.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { markWords } from '../../parts/queen-mark.tsx';
import { EarlyEggs } from './early-eggs.tsx';
import { FramePhoto } from './frame-photo.tsx';
import { LayingClock } from './laying-clock.tsx';
import { type More, MoreSights } from './more-sights.tsx';
import { NucFacts } from './nuc-card.tsx';
import { OtherQueen } from './other-queen.tsx';
import { SightChoices } from './sight-choices.tsx';
import type { Given } from './use-keeping.ts';

/** What is asked about the nuc in hand before anything is kept. */
type Asking = 'other' | 'early' | 'more' | null;

const isEarly = (nuc: RoundNuc, sights: readonly Sight[]): boolean =>
  askAbout({ day: today(), sights, queenSeen: null }, nuc.inseminated?.on ?? null).some(
    ({ code }) => code === 'eggs-too-early',
  );

type InHandProps = { nuc: RoundNuc; round: RoundAnswer; busy: boolean; onKeep: (given: Given) => void };

/** The nuc in hand: its two facts, what is known, and the drawn choices. One press keeps and moves on. */
export function NucInHand({ nuc, round, busy, onKeep }: InHandProps) {
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
