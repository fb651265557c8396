import '../style/bench.css';
import { useNavigate, useParams } from '@tanstack/react-router';
import { useMemo } from 'react';
import { noteAtBench } from '#actions/bench/note-at-bench.ts';
import { setOut } from '#questions/bench/set-out.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { dayWords } from '../parts/day-words.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { useKeys } from '../shell/keys.ts';
import { BenchCautions } from './cautions.tsx';
import { Checklist, setOutItems } from './checklist.tsx';
import { WhatThisPageCanDo } from './devices/can-do.tsx';
import { MountTip } from './mount-tip.tsx';
import { AddCross } from './set-out/add-cross.tsx';
import { CrossSection } from './set-out/cross-section.tsx';
import { DayForm } from './set-out/day-form.tsx';

/** The set-out of a bench day: the day itself, a short list, each cross with its queue, carbon dioxide and tubes, and its cautions. */
export function SetOutPage() {
  const { day } = useParams({ strict: false });
  const id = day as RecordId;
  const query = useAsk(setOut, { bench_day: id });
  const { run } = useDo();
  const navigate = useNavigate();
  useKeys(
    useMemo(() => ({ P: () => window.open(withInput('/api/paper/bench-sheet', { bench_day: id }), '_blank') }), [id]),
  );
  const tick = (words: string) => void run(noteAtBench, { bench_day: id, what: 'set-out', words }, { happened: true });
  return (
    <Asked query={query}>
      {({ day: answer }) =>
        answer === null ? (
          <NoPage />
        ) : (
          <section className="stack wide">
            <div className="spread">
              <h1>{say('bench.day-of', { day: dayWords(answer.day.day) })}</h1>
              <nav className="cluster" aria-label={say('bench.nav')}>
                <a
                  className="button"
                  href={withInput('/api/paper/bench-sheet', { bench_day: id })}
                  target="_blank"
                  rel="noreferrer"
                >
                  {say('bench.print-sheet')} <kbd>P</kbd>
                </a>
                <a
                  className="button"
                  href={withInput('/api/paper/home-slip', { bench_day: id })}
                  target="_blank"
                  rel="noreferrer"
                >
                  {say('bench.print-home')}
                </a>
                <button type="button" className="button" onClick={() => void navigate({ to: `/bench/${id}/paper` })}>
                  {say('bench.from-paper')}
                </button>
                <button type="button" className="button" onClick={() => void navigate({ to: `/bench/${id}/put-away` })}>
                  {say('bench.put-away')}
                </button>
              </nav>
            </div>
            {answer.day.closed === null ? null : (
              <p>{say('bench.closed-at', { at: answer.day.closed.slice(11, 16) })}</p>
            )}
            <div className="two-up">
              <DayForm setOut={answer} key={answer.day.id} />
              <div className="stack">
                <Checklist
                  title={say('bench.set-out')}
                  prefix="bench.set-out"
                  items={setOutItems}
                  ticked={answer.ticked}
                  onTick={tick}
                />
                <BenchCautions />
                {window.isSecureContext ? null : <WhatThisPageCanDo />}
              </div>
            </div>
            {answer.crosses.map((cross) => (
              <CrossSection key={cross.id} cross={cross} setOut={answer} />
            ))}
            {answer.crosses.length === 0 ? <p>{say('bench.no-crosses')}</p> : null}
            <MountTip tip={answer.day.first_tip ?? answer.nextTip} />
            <AddCross setOut={answer} />
          </section>
        )
      }
    </Asked>
  );
}
