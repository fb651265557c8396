import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { Button, FileTrigger, Switch } from 'react-aria-components';
import { say, sayProblem } from '#words/say.ts';
import { getJson, postBytes, postJson, RefusedByServer } from '../link/server.ts';
import { tell } from '../parts/told.tsx';
import { keysAreOn } from '../shell/keys.ts';

type BookState = { seq: number; epoch: string; safeCopy: string | null };

/** The state of the book: how many acts, and when it was last copied. */
export const useBook = () =>
  useQuery({ queryKey: ['book'], queryFn: () => getJson<BookState>('/api/book'), refetchInterval: 60_000 });

/** Whole days since an ISO time. */
const daysSince = (time: string): number => Math.floor((Date.now() - Date.parse(time)) / 86_400_000);

/** How old the last safe copy is, in words. */
export function sayCopyAge(safeCopy: string | null): string {
  return safeCopy === null ? say('copies.none') : say('copies.age', { days: daysSince(safeCopy) });
}

function SafeCopies() {
  const book = useBook();
  const client = useQueryClient();
  const make = async () => {
    await postJson('/api/safe-copy', {});
    await client.invalidateQueries({ queryKey: ['book'] });
    tell(say('copies.made'));
  };
  return (
    <section className="sheet stack tight">
      <h2>{say('copies.title')}</h2>
      <p>{say('copies.what')}</p>
      <p>{book.data === undefined ? say('edge.looking') : sayCopyAge(book.data.safeCopy)}</p>
      <div className="cluster">
        <Button className="button main" onPress={() => void make()}>
          {say('copies.make')}
        </Button>
        <a className="button" href="/api/safe-copy" download>
          {say('copies.carry')}
        </a>
        <a className="button" href="/api/export" download>
          {say('copies.export')}
        </a>
      </div>
      <p className="note">{say('copies.export-what')}</p>
    </section>
  );
}

function Restore() {
  const [chosen, setChosen] = useState<File | null>(null);
  const [problem, setProblem] = useState('');
  const restore = async (file: File) => {
    setProblem('');
    try {
      await postBytes('/api/restore', file);
      location.assign('/today');
    } catch (error) {
      if (!(error instanceof RefusedByServer)) throw error;
      setProblem(error.problems.map(sayProblem).join(' '));
    }
  };
  return (
    <section className="sheet stack tight">
      <h2>{say('restore.title')}</h2>
      <p>{say('restore.what')}</p>
      {problem === '' ? null : (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
      <div className="cluster">
        <FileTrigger onSelect={(files) => setChosen(files?.[0] ?? null)} acceptedFileTypes={['.sqlite', '.zip']}>
          <Button className="button">{say('restore.choose')}</Button>
        </FileTrigger>
        {chosen === null ? null : (
          <Button className="button main" onPress={() => void restore(chosen)}>
            {say('restore.do', { file: chosen.name })}
          </Button>
        )}
      </div>
    </section>
  );
}

const themes = ['paper', 'lamp', 'red'] as const;

function Looks() {
  const [theme, setTheme] = useState(document.documentElement.dataset.theme ?? 'paper');
  const choose = (next: string) => {
    localStorage.setItem('combwright.theme', next);
    document.documentElement.dataset.theme = next;
    setTheme(next);
  };
  return (
    <fieldset className="sheet cluster">
      <legend>{say('looks.title')}</legend>
      {themes.map((each) => (
        <label key={each} className="cluster">
          <input type="radio" name="theme" checked={theme === each} onChange={() => choose(each)} />
          {say(`looks.${each}`)}
        </label>
      ))}
      <p className="note">{say('looks.note')}</p>
    </fieldset>
  );
}

function SingleKeys() {
  const [on, setOn] = useState(keysAreOn());
  return (
    <section className="sheet">
      <Switch
        className="switch"
        isSelected={on}
        onChange={(next) => {
          localStorage.setItem('combwright.single-keys', next ? 'on' : 'off');
          setOn(next);
        }}
      >
        <span className="box" aria-hidden="true">
          {on ? '●' : '○'}
        </span>
        {say('keys.single')}
      </Switch>
    </section>
  );
}

/** What belongs to no place: copies of the book, looks, keys, and what this program is. */
export function DrawerPage() {
  return (
    <section className="stack">
      <h1>{say('edge.drawer')}</h1>
      <SafeCopies />
      <Restore />
      <Looks />
      <SingleKeys />
      <section className="sheet stack tight">
        <h2>{say('about.title')}</h2>
        <p>{say('about.what')}</p>
        <p className="note">{say('about.care')}</p>
      </section>
    </section>
  );
}
