// biome-ignore-all lint/a11y/noRedundantRoles: leaf cards lay the table out as blocks, which would take its roles away
import { Link } from '@tanstack/react-router';
import { useEffect, useRef, useState } from 'react';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { offScale } from '#domain/scoring/trait.ts';
import type { Criterion } from '#domain/worth/criteria.ts';
import type { Ranked } from '#domain/worth/ranking.ts';
import type { RestingPart, RestsOnMost } from '#domain/worth/rests-on.ts';
import type { RunTold } from '#domain/worth/run-told.ts';
import type { Change } from '#domain/worth/what-changed.ts';
import type { RunLine } from '#questions/stock/worth-runs.ts';
import { seasonRecordsOf } from '#questions/yard/season-records.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { useComputed, useDesk } from '../../link/computed.ts';
import { today } from '../../link/this-device.ts';
import { useAsk } from '../../link/use-ask.ts';
import { Asked } from '../../parts/asked.tsx';
import { valueWords } from '../../yard/scores/traits.ts';
import { QueenLink } from '../queen-link.tsx';
import { inputOfRun, theStock } from './sources.ts';
import {
  differenceFigure,
  differenceWords,
  reliabilityFigure,
  reliabilityWords,
  type Seen,
  seenName,
  spreadFigure,
  traitName,
} from './worth-words.ts';

type Faces = Readonly<Record<string, QueenFace>>;

/** The readings a season rests on, one line each, with the colony they were taken on. */
function Readings({ part }: { part: RestingPart }) {
  const query = useAsk(seasonRecordsOf, { today: today(), queen: part.queen as RecordId });
  return (
    <Asked query={query}>
      {({ records }) => {
        const found = records.find(({ id }) => id === part.record)?.traits.find(({ trait }) => trait === part.trait);
        return (
          <ul className="readings">
            {(found?.behind ?? []).map(({ id, value, day, colony, person, trait, method }) => (
              <li key={id}>
                {say('worth.reading', {
                  value: `${trait === part.trait ? '' : `${traitName(trait)} `}${value === null ? '' : valueWords(trait, value)}`,
                  day: shortDay(day),
                  colony: colony?.code ?? '',
                  person: person ?? 'none',
                })}
                {method === null ? '' : ` (${sayAny(`score.method.${method}`)})`}{' '}
                {colony === null ? null : (
                  <Link to="/yard/colony/$id" params={{ id: colony.id }}>
                    {colony.code}
                  </Link>
                )}
              </li>
            ))}
          </ul>
        );
      }}
    </Asked>
  );
}

type PartProps = {
  part: RestingPart;
  asked: string;
  seen: Seen;
  faces: Faces;
  units: Readonly<Record<string, number>>;
};

function PartRow({ part, asked, seen, faces, units }: PartProps) {
  const [open, setOpen] = useState(false);
  const own = units[part.trait] ?? 1;
  const face = faces[part.queen];
  return (
    <>
      <tr>
        <th scope="row" role="rowheader">
          <div>
            {face === undefined ? part.queen : <QueenLink queen={face} />}{' '}
            {part.queen === asked ? <span className="note">{say('worth.part-own')}</span> : null}
            <br />
            <span className="note">
              {part.level}
              {part.trait === seen ? '' : `, ${traitName(part.trait)}`}
            </span>
          </div>
        </th>
        <td role="cell" data-label={say('worth.part-value')} className="number">
          {valueWords(part.trait, offScale(part.trait, part.value))}
        </td>
        <td role="cell" data-label={say('worth.part-deviation')} className="number">
          {differenceFigure(part.trait, part.deviation * own)}
        </td>
        <td role="cell" data-label={say('worth.part-weight')} className="number">
          {part.weight.toFixed(3)}
        </td>
        <td role="cell" data-label={say('worth.part-gives')} className="number">
          <strong>{differenceFigure(seen, part.part * (seen === null ? 1 : (units[seen] ?? 1)))}</strong>
        </td>
        <td role="cell">
          <button type="button" className="button quiet" aria-expanded={open} onClick={() => setOpen((was) => !was)}>
            {say('worth.readings')}
            <span className="visually-hidden"> {`${face?.code ?? ''} ${part.level} ${traitName(part.trait)}`}</span>
          </button>
        </td>
      </tr>
      {open ? (
        <tr>
          <td role="cell" colSpan={6}>
            <Readings part={part} />
          </td>
        </tr>
      ) : null}
    </>
  );
}

const SHOWN = 12;

function Parts({ found, asked, ...more }: Omit<PartProps, 'part'> & { found: RestsOnMost }) {
  const { parts } = found;
  const unit = more.seen === null ? 1 : (more.units[more.seen] ?? 1);
  if (parts.length === 0) return <p>{say('worth.no-records')}</p>;
  return (
    <table className="book cards resting" role="table">
      <thead role="rowgroup">
        <tr role="row">
          <th scope="col">{say('worth.part-record')}</th>
          <th scope="col" className="number">
            {say('worth.part-value')}
          </th>
          <th scope="col" className="number">
            {say('worth.part-deviation')}
          </th>
          <th scope="col" className="number">
            {say('worth.part-weight')}
          </th>
          <th scope="col" className="number">
            {say('worth.part-gives')}
          </th>
          <td />
        </tr>
      </thead>
      <tbody role="rowgroup">
        {parts.map((part) => (
          <PartRow key={`${part.record} ${part.trait}`} part={part} asked={asked} {...more} />
        ))}
        {found.more === 0 ? null : (
          <tr>
            <th scope="row">{say('worth.part-more', { n: found.more })}</th>
            <td className="number" data-label={say('worth.part-gives')} colSpan={4}>
              {differenceFigure(more.seen, unit * found.moreGive)}
            </td>
            <td />
          </tr>
        )}
        <tr>
          <th scope="row">{say('worth.part-sum')}</th>
          <td className="number" data-label={say('worth.part-gives')} colSpan={4}>
            <strong>{differenceWords(more.seen, unit * found.sum)}</strong>
          </td>
          <td />
        </tr>
      </tbody>
    </table>
  );
}

/** What moved her worth since the run before, by cause. */
export function ChangeOf({
  change,
  seen,
  unit,
}: {
  change: Omit<Change, 'code'> | undefined;
  seen: Seen;
  unit: number;
}) {
  if (change === undefined) return <p>{say('worth.changed-first')}</p>;
  if (change.from === null || change.to === null) return <p>{say('worth.changed-new')}</p>;
  const causes = [
    ['records', change.byRecords],
    ['descent', change.byDescent],
    ['model', change.byModel],
    ['base', change.byBase],
  ] as const;
  return (
    <div className="stack tight">
      <p>
        {say('worth.changed-what', {
          from: differenceFigure(seen, change.from * unit),
          to: differenceWords(seen, change.to * unit),
        })}
      </p>
      <dl className="now">
        {causes.map(([by, value]) => (
          <div key={by}>
            <dt>{sayAny(`worth.by.${by}`)}</dt>
            <dd>{differenceFigure(seen, value * unit)}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

type OpenedProps = {
  ranked: Ranked;
  line: RunLine;
  told: RunTold;
  seen: Seen;
  criterion: Criterion;
  /** When the stock was read last: faces are as they were then. */
  stockAt: number;
  change: Omit<Change, 'code'> | undefined;
};

/** Readings by record, with the queens they belong to as they are recognised. */
function PartsWithFaces({
  found,
  stockAt,
  ...more
}: Omit<PartProps, 'part' | 'faces'> & { found: RestsOnMost; stockAt: number }) {
  const queens = [...new Set(found.parts.map(({ queen }) => queen))];
  const faces = useDesk<Faces>('stock-faces', [stockAt, queens], { queens }, { brings: theStock() });
  return <Asked query={faces}>{(known) => <Parts found={found} faces={known} {...more} />}</Asked>;
}

/** One worth opened down to the records it rests on, and why it moved. */
export function Opened({ ranked, line, told, seen, criterion, stockAt, change }: OpenedProps) {
  const { id, code } = ranked.queen;
  const asked = { queen: id, trait: seen, criterion };
  const query = useComputed<RestsOnMost | null | { problems: unknown }>(
    'run-rests-on',
    [line.id, asked],
    { asked, most: SHOWN },
    { brings: inputOfRun(line) },
  );
  const unit = seen === null ? 1 : (line.units[seen] ?? 1);
  const { value, error, reliability } = ranked.worth;
  const heading = useRef<HTMLHeadingElement>(null);
  // What was asked for may lie far below the row that was pressed.
  useEffect(() => heading.current?.focus(), []);
  return (
    <section className="stack tight opened" aria-labelledby="opened">
      <h2 id="opened" ref={heading} tabIndex={-1}>
        {say('worth.opened', { code })}
      </h2>
      <p>
        {say('worth.opened-value', {
          what: `${seenName(seen)}, ${sayAny(`worth.criterion.${criterion}`)}`,
          value: differenceWords(seen, value),
          error: error === null ? '–' : spreadFigure(seen, error),
          reliability: reliabilityFigure(reliability, told.reliability),
          kind: sayAny(`worth.kind.${told.reliability}`),
        })}{' '}
        {told.reliability === 'approximate' ? reliabilityWords(told, criterion) : null}
      </p>
      <h3>{say('worth.changed')}</h3>
      <ChangeOf change={change} seen={seen} unit={unit} />
      <h3>{say('worth.readings')}</h3>
      <p className="note">{say('worth.parts-what')}</p>
      <Asked query={query}>
        {(found) =>
          found === null || 'problems' in found ? (
            <p>{say('worth.no-records')}</p>
          ) : (
            <PartsWithFaces found={found} asked={id} seen={seen} stockAt={stockAt} units={line.units} />
          )
        }
      </Asked>
    </section>
  );
}
