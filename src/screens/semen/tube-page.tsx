import '../style/semen.css';
import { Link, useParams } from '@tanstack/react-router';
import { useState } from 'react';
import { type StoryLine, type TubeLeaf, tubeStory } from '#questions/semen/tube-story.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { dayWords } from '../parts/day-words.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { CorrectLine } from './correct-line.tsx';
import { KeepTube } from './keep-tube.tsx';
import { ageWords, clockOf, partName, partsWords } from './semen-words.ts';
import { StepForm } from './step-form.tsx';
import { StoragePanel } from './storage-panel.tsx';
import { drawnWords, TubeDrawing } from './tube-drawing.tsx';

const DOSE = 8;
const microlitres = (n: number | null): string => (n === null ? '?' : n.toFixed(1));

/** One line of the ledger as a sentence: what, how much, of whose, to whom. */
function lineWords(line: StoryLine): string {
  const mothers = line.catch === null ? '' : line.catch.mothers.join(', ');
  const values = {
    n: microlitres(line.volume),
    semen: microlitres(line.semen),
    drones: line.drones ?? 0,
    mothers,
    queen: line.queen?.name ?? '–',
    to: line.to ?? say('semen.line.somebody'),
    tube: line.fromTube?.code ?? line.toTube?.code ?? '–',
    end: line.end === 'other' ? 'other' : 'filled',
  };
  if (line.step === 'drawn-over' && line.toTube !== null) return say('semen.line.given-over', values);
  if (line.volume === null && ['lost', 'broken', 'sent'].includes(line.step))
    return sayAny(`semen.line.${line.step}-all`, values);
  return sayAny(`semen.line.${line.step}`, values);
}

function LedgerLine({ line, onCorrect }: { line: StoryLine; onCorrect: (line: StoryLine) => void }) {
  const words = lineWords(line);
  return (
    <li className={line.gone ? 'gone' : undefined}>
      <span className="when">
        {dayWords(line.moment.slice(0, 10) as never)} <span className="figures">{clockOf(line.moment)}</span>
      </span>
      <span className="what">
        {line.gone ? <s>{words}</s> : words}
        {line.corrects ? <span className="note"> {say('semen.line.corrects')}</span> : null}
        {line.queen === null ? null : (
          <>
            {' '}
            <Link to={`/stock/queen/${line.queen.id}`}>{say('semen.line.her')}</Link>
          </>
        )}
        {line.person === null ? null : <span className="note"> {line.person}</span>}
      </span>
      <span className="left figures">
        {line.after === null ? '' : say('semen.line.left', { n: line.after.toFixed(1) })}
      </span>
      {line.gone || line.toTube !== null ? null : (
        <button type="button" className="button quiet" onClick={() => onCorrect(line)}>
          {say('semen.line.correct')}
        </button>
      )}
    </li>
  );
}

function Sum({ leaf: { sums, left } }: { leaf: TubeLeaf }) {
  const shown = (n: number) => n.toFixed(1);
  const values = { into: shown(sums.into), given: shown(sums.given), away: shown(sums.away), left: shown(left) };
  const read = shown(Math.abs(sums.read));
  return (
    <p className="figures">
      {read === '0.0'
        ? say('semen.sum', values)
        : say('semen.sum-read', { ...values, read, way: sums.read < 0 ? 'less' : 'more' })}
    </p>
  );
}

function Ahead({ leaf }: { leaf: TubeLeaf }) {
  if (leaf.nextDoses.length === 0) return null;
  return (
    <section className="stack tight">
      <h2>{say('semen.ahead')}</h2>
      <ol className="ahead">
        {leaf.nextDoses.map((ahead, i) => (
          <li key={i}>
            <span className="figures">{ahead.microlitres.toFixed(1)} µl</span> {partsWords(ahead.mothers)}
            {ahead.missing > 0 ? (
              <span className="note"> {say('semen.ahead-short', { n: ahead.missing.toFixed(1) })}</span>
            ) : null}
          </li>
        ))}
      </ol>
      <p className="note">
        {leaf.mixing === 'layered' ? say('semen.ahead-layered') : sayAny(`semen.ahead-${leaf.mixing}`)}
        {leaf.assumed === null ? '' : ` ${sayAny(`semen.assumed.${leaf.assumed}`)}`}
      </p>
    </section>
  );
}

function Condemned({ leaf }: { leaf: TubeLeaf }) {
  if (!leaf.condemned) return null;
  return (
    <div className="problems">
      <h2>{say('semen.condemned')}</h2>
      <p>{say('semen.condemned-means')}</p>
      {leaf.servedSoiled.length === 0 ? (
        <p>{say('semen.condemned-nobody')}</p>
      ) : (
        <p>
          {say('semen.condemned-served')}{' '}
          {leaf.servedSoiled.map(({ id, name }, i) => (
            <span key={id}>
              {i > 0 ? ', ' : ''}
              <Link to={`/stock/queen/${id}`} className="code">
                {name}
              </Link>
            </span>
          ))}
        </p>
      )}
    </div>
  );
}

function Leaf({ leaf }: { leaf: TubeLeaf }) {
  const [correcting, setCorrecting] = useState<StoryLine | null>(null);
  const { tube } = leaf;
  const full = Math.max(leaf.left, ...leaf.lines.map(({ after }) => after ?? 0), 1);
  return (
    <section className="stack wide">
      <p>
        <Link to="/semen">{say('place.semen')}</Link>
      </p>
      <header className="tube-identity">
        <h1 className="code">{tube.code}</h1>
        <p>
          {sayAny(`semen.form.${tube.form}`)}
          {tube.bore_mm === null ? '' : ` · ${say('semen.bore-is', { bore: tube.bore_mm })}`}
          {tube.slot === null ? '' : ` · ${say('semen.slot-is', { slot: tube.slot })}`}
        </p>
        <p>
          <strong>{partsWords(leaf.mothers)}</strong> · {ageWords(leaf)}
        </p>
        <TubeDrawing {...leaf} full={full} dose={DOSE} />
        <p className="lead">{drawnWords({ left: leaf.left, dose: DOSE, condemned: false })}</p>
        <Sum leaf={leaf} />
      </header>
      <Condemned leaf={leaf} />
      <Ahead leaf={leaf} />
      <StepForm leaf={leaf} />
      <section className="stack tight">
        <h2>{say('semen.story')}</h2>
        {leaf.lines.length === 0 ? <p>{say('semen.story-none')}</p> : null}
        <ol className="ledger">
          {leaf.lines.map((line) => (
            <LedgerLine key={line.id} line={line} onCorrect={setCorrecting} />
          ))}
        </ol>
      </section>
      {correcting === null ? null : <CorrectLine line={correcting} onDone={() => setCorrecting(null)} />}
      {leaf.layers.length > 1 ? (
        <section className="stack tight">
          <h2>{say('semen.layers')}</h2>
          <ol>
            {leaf.layers.map((layer, i) => (
              <li key={i}>
                <span className="figures">{layer.microlitres.toFixed(1)} µl</span>{' '}
                {layer.mothers.map(partName).join(' + ')}
              </li>
            ))}
          </ol>
        </section>
      ) : null}
      <StoragePanel leaf={leaf} />
      <KeepTube leaf={leaf} />
      <p>
        <Link to={`/history/${tube.id}`}>{say('edge.history')}</Link>
      </p>
    </section>
  );
}

/** The story of one tube: what is in it, what the next doses hold, its ledger in words, and what is known of semen so old. */
export function TubePage() {
  const { id } = useParams({ strict: false });
  const query = useAsk(tubeStory, { tube: id as RecordId, dose: DOSE });
  return <Asked query={query}>{({ leaf }) => (leaf === null ? <NoPage /> : <Leaf leaf={leaf} />)}</Asked>;
}
