import { useRef, useState } from 'react';
import { home } from '#actions/bench/home.ts';
import type { DoneQueen } from '#questions/bench/bench-summary.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { calledOf } from '../../parts/identity-band.tsx';
import { Problems } from '../../parts/problems.tsx';

type Colony = { id: string; code: string };

const plain = (text: string) =>
  text
    .trim()
    .toUpperCase()
    .replace(/^[KQ]:/, '');
const queenOf = (text: string, queens: readonly DoneQueen[]) =>
  queens.find(({ cage, face }) => [cage, face.code].some((each) => each !== null && plain(each) === plain(text)));

/**
 * Cage, then nuc, past the reader (or typed): two codes that must match before she goes in. Another nuc than hers is not taken until it
 * is said that she is in it.
 */
export function ScanHome({ queens }: { queens: readonly DoneQueen[] }) {
  const [text, setText] = useState('');
  const [queen, setQueen] = useState<DoneQueen | null>(null);
  const [wrong, setWrong] = useState<Colony | null>(null);
  const [told, setTold] = useState('');
  const field = useRef<HTMLInputElement>(null);
  const { data } = useAsk(chooseOthers, {});
  const { run, problems } = useDo();
  const begin = (words: string) => {
    setText('');
    setTold(words);
    field.current?.focus();
  };
  const goes = async (to: Colony) => {
    if (queen?.insemination == null) return;
    const input = { insemination: queen.insemination as RecordId, colony: to.id as RecordId, excluder: true };
    const did = await run(home, input, { happened: true });
    if (!('result' in did)) return;
    setQueen(null);
    setWrong(null);
    begin(say('bench.scan.home', { queen: calledOf(queen.face), nuc: to.code }));
  };
  const read = () => {
    if (text.trim() === '') return;
    const shown = queenOf(text, queens);
    const nuc = (data?.colonies ?? []).find(({ code }) => plain(code) === plain(text));
    setWrong(null);
    if (queen === null || (shown !== undefined && nuc === undefined)) {
      setQueen(shown ?? null);
      begin(shown === undefined ? say('bench.scan.unknown', { label: text }) : '');
    } else if (nuc === undefined) begin(say('bench.scan.no-nuc', { label: text }));
    else if (queen.home === null || queen.home.id === nuc.id) void goes(nuc);
    else {
      setWrong(nuc);
      begin('');
    }
  };
  return (
    <section className="stack tight" aria-labelledby="scan-home">
      <h2 id="scan-home">{say('bench.scan')}</h2>
      <form
        className="cluster"
        onSubmit={(event) => {
          event.preventDefault();
          read();
        }}
      >
        <label className="cluster">
          {say(queen === null ? 'bench.scan.cage' : 'bench.scan.nuc')}
          <input
            className="reason"
            ref={field}
            value={text}
            autoComplete="off"
            onChange={({ target }) => setText(target.value)}
          />
        </label>
        <button type="submit" className="button">
          {say('bench.scan.read')}
        </button>
      </form>
      <div role="status">
        {queen === null ? null : (
          <p>
            <strong className="code">{calledOf(queen.face)}</strong>{' '}
            {say('bench.scan.goes-to', { nuc: queen.home?.code ?? say('bench.scan.any-nuc') })}
          </p>
        )}
        {told === '' ? null : <p>{told}</p>}
      </div>
      {wrong === null || queen === null ? null : (
        <div className="caution" role="alert">
          <p>{say('bench.scan.wrong', { nuc: wrong.code, home: queen.home?.code ?? '' })}</p>
          <div className="cluster">
            <button type="button" className="button main" onClick={() => setWrong(null)}>
              {say('bench.stop.taken-away')}
            </button>
            <button type="button" className="button" onClick={() => void goes(wrong)}>
              {say('bench.scan.is-in', { nuc: wrong.code })}
            </button>
          </div>
        </div>
      )}
      <Problems problems={problems} title={say('form.not-kept')} />
    </section>
  );
}
