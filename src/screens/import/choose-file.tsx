import { type DragEvent, useRef, useState } from 'react';
import { say } from '#words/say.ts';
import { OutOfReach, postBytes, RefusedByServer } from '../link/server.ts';
import { sayRefusals } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import type { Bringing } from './use-import.ts';

/** The first step: a file is opened or dropped, or cells are pasted. Nothing is written by it. */
export function ChooseFile({ onChosen }: { onChosen: (bringing: Bringing) => void }) {
  const [pasted, setPasted] = useState('');
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<string | null>(null);
  const box = useRef<HTMLInputElement>(null);
  const send = async (bytes: Blob, name: string) => {
    setBusy(true);
    setWrong(null);
    try {
      const { hash, size } = await postBytes<{ hash: string; size: number }>('/api/upload', bytes);
      onChosen({ hash, name, size, choices: {} });
    } catch (error) {
      if (error instanceof RefusedByServer) setWrong(sayRefusals(error.problems));
      else if (error instanceof OutOfReach) tell(say('edge.out-of-reach'));
      else throw error;
    } finally {
      setBusy(false);
      if (box.current !== null) box.current.value = '';
    }
  };
  const take = (file: File | undefined) => file !== undefined && void send(file, file.name);
  const dropped = (event: DragEvent) => {
    event.preventDefault();
    take(event.dataTransfer.files[0]);
  };
  return (
    <div className="doors">
      {/* biome-ignore lint/a11y/noStaticElementInteractions: dropping a file is a second way; the button inside is the first */}
      <div className="door" onDragOver={(event) => event.preventDefault()} onDrop={dropped}>
        <h3>{say('import.open')}</h3>
        <p>{say('import.open-what')}</p>
        <label className="button main">
          {busy ? say('edge.looking') : say('import.open-file')}
          <input
            ref={box}
            type="file"
            accept=".csv,.tsv,.txt,.xlsx,text/csv,text/plain"
            className="visually-hidden"
            onChange={({ target }) => take(target.files?.[0])}
          />
        </label>
        {wrong === null ? null : (
          <p role="alert" className="problem">
            {wrong}
          </p>
        )}
      </div>
      <div className="door">
        <h3>
          <label htmlFor="pasted">{say('import.paste')}</label>
        </h3>
        <textarea
          id="pasted"
          className="paste-box"
          value={pasted}
          rows={5}
          spellCheck={false}
          onChange={({ target }) => setPasted(target.value)}
        />
        <button
          type="button"
          className="button"
          aria-disabled={pasted.trim() === '' || busy}
          onClick={() => pasted.trim() !== '' && void send(new Blob([pasted]), say('import.pasted'))}
        >
          {say('import.use-pasted')}
        </button>
      </div>
    </div>
  );
}
