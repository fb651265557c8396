import { useState } from 'react';
import { setFigures } from '#actions/rearing/profile/set-figures.ts';
import type { LearnedFigure } from '#domain/rearing/own-records.ts';
import { type FigureKind, figureOf } from '#domain/rearing/profile-figures.ts';
import type { ProfileLine } from '#questions/rearing/profiles.ts';
import { say, sayAny } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { profileWords } from '../profile-words.ts';
import { EditFigure } from './edit-figure.tsx';
import { figureGroups, valueWords } from './figure-groups.ts';
import { learnedEntry, learnedWords } from './learned-words.ts';

type RowProps = { line: ProfileLine; kind: FigureKind; learned: LearnedFigure | undefined };

function Range({ low, high, kind }: { low: number; high: number; kind: FigureKind }) {
  if (low === high) return null;
  const words = say('profiles.range', { low: valueWords(low, kind), high: valueWords(high, kind) });
  return <span className="soft figure-range">{words}</span>;
}

/** What one's own records say of the figure, with how many they are, and one press to take it. */
function Learned({ line, kind, learned }: RowProps) {
  const { run, busy } = useDo();
  if (learned === undefined) return <span className="soft">–</span>;
  const { id } = line;
  const take = async () => {
    if (id === null) return;
    const did = await run(setFigures, { profile: id, figures: [learnedEntry(learned)], back: [] });
    tell('problems' in did ? sayRefusals(did.problems) : say('profiles.figures-kept', { n: 1 }));
  };
  return (
    <>
      <span className="figure-value">{valueWords(learned.figure.value, kind)}</span>{' '}
      <Range low={learned.figure.low} high={learned.figure.high} kind={kind} />
      <span className="note figure-counts">{learnedWords(learned)}</span>
      {id === null ? null : (
        <button
          type="button"
          className="button"
          aria-disabled={busy}
          aria-label={say('profiles.take-figure', { figure: sayAny(`figure.${kind.key}`) })}
          onClick={() => void take()}
        >
          {say('profiles.take')}
        </button>
      )}
    </>
  );
}

/** The acts on one figure of a set of one's own. */
function Acts({ line, kind, onEdit }: { line: ProfileLine; kind: FigureKind; onEdit: () => void }) {
  const { run, busy } = useDo();
  const { id } = line;
  if (id === null) return null;
  const back = async () => {
    const did = await run(setFigures, { profile: id, figures: [], back: [kind.key] });
    if ('problems' in did) tell(sayRefusals(did.problems));
  };
  return (
    <span className="cluster">
      <button
        type="button"
        className="button"
        aria-label={say('profiles.change-figure', { figure: sayAny(`figure.${kind.key}`) })}
        onClick={onEdit}
      >
        {say('profiles.change')}
      </button>
      {line.own.includes(kind.key) && line.base !== null ? (
        <button type="button" className="button quiet" aria-disabled={busy} onClick={() => void back()}>
          {say('profiles.back', { base: profileWords(line.base.name) })}
        </button>
      ) : null}
    </span>
  );
}

function FigureRow({ line, kind, learned }: RowProps) {
  const [editing, setEditing] = useState(false);
  const figure = figureOf(line.profile, kind.key);
  const { id } = line;
  return (
    <>
      <tr className={line.own.includes(kind.key) ? 'own' : undefined}>
        <th scope="row">{sayAny(`figure.${kind.key}`)}</th>
        <td data-label={say('profiles.value')}>
          <strong className="figure-value">{valueWords(figure.value, kind)}</strong>{' '}
          <Range low={figure.low} high={figure.high} kind={kind} />
        </td>
        <td data-label={say('profiles.rests-on')} className="figure-source">
          <span>{sayAny(`basis.${figure.basis}`)}</span>
          {figure.source === '' || figure.source === figure.basis ? null : (
            <span className="note"> {figure.source}</span>
          )}
          {editing ? null : <Acts line={line} kind={kind} onEdit={() => setEditing(true)} />}
        </td>
        <td data-label={say('profiles.own-records')}>
          <Learned line={line} kind={kind} learned={learned} />
        </td>
      </tr>
      {editing && id !== null ? (
        <tr className="figure-edit">
          <td colSpan={4}>
            <EditFigure profile={id} base={line.base} kind={kind} figure={figure} onDone={() => setEditing(false)} />
          </td>
        </tr>
      ) : null}
    </>
  );
}

/** Every figure of a set: its value and range, what it rests on, what one's own records say. */
export function FiguresTable({ line, learned }: { line: ProfileLine; learned: readonly LearnedFigure[] }) {
  const byKey = new Map(learned.map((each) => [each.key, each]));
  return (
    <div className="stack">
      {figureGroups.map(({ name, kinds }) => (
        <table key={name} className="book figures">
          <caption>{sayAny(`group.${name}`)}</caption>
          <thead>
            <tr>
              <th scope="col">{say('profiles.figure')}</th>
              <th scope="col">{say('profiles.value')}</th>
              <th scope="col">{say('profiles.rests-on')}</th>
              <th scope="col">{say('profiles.own-records')}</th>
            </tr>
          </thead>
          <tbody>
            {kinds.map((kind) => (
              <FigureRow
                key={`${line.profile.name} ${kind.key}`}
                line={line}
                kind={kind}
                learned={byKey.get(kind.key)}
              />
            ))}
          </tbody>
        </table>
      ))}
    </div>
  );
}
