import { useState } from 'react';
import type { Evaluation } from '#domain/worth/evaluation.ts';
import type { RunTold } from '#domain/worth/run-told.ts';
import type { TrendYear } from '#domain/worth/trend.ts';
import type { YearCheck } from '#domain/worth/validate-by-year.ts';
import type { Validation } from '#domain/worth/validation.ts';
import type { RunLine } from '#questions/stock/worth-runs.ts';
import { say } from '#words/say.ts';
import { BelowAxis, LeftAxis, Plot, scale, useRoom } from '../../lessons/plot.tsx';
import { useWork } from '../../link/computed.ts';
import { SelectField } from '../../parts/form.tsx';
import { ticksBetween } from '../../yard/records/yard-year-plot.tsx';
import { inputOfRun } from './sources.ts';
import { differenceFigure, differenceWords, type Seen, spreadFigure, traitName } from './worth-words.ts';

/** Mean worth by year of birth, with how far most queens of a year lie apart. */
export function Trend({
  answer,
  seen,
  unit,
}: {
  answer: Pick<Evaluation, 'trend' | 'indexTrend'>;
  seen: Seen;
  unit: number;
}) {
  const years = (seen === null ? answer.indexTrend : answer.trend[seen]) ?? [];
  const shown = years.map(({ mean, sd, ...year }): TrendYear => ({ ...year, mean: mean * unit, sd: sd * unit }));
  const room = useRoom(280);
  const ends = shown.flatMap(({ mean, sd }) => [mean - sd, mean + sd]);
  const y = scale([Math.min(0, ...ends), Math.max(0, ...ends)], [room.bottom - 8, room.top + 8]);
  const [first, last] = [shown[0], shown.at(-1)];
  if (first === undefined || last === undefined) return null;
  const x = scale([first.year - 0.4, last.year + 0.4], [room.left, room.right]);
  return (
    <section className="stack tight" aria-labelledby="trend">
      <h2 id="trend">{say('worth.trend')}</h2>
      <Plot
        title={
          shown.length < 2
            ? say('worth.trend-one')
            : say('worth.trend-title', {
                first: String(first.year),
                last: String(last.year),
                by: differenceWords(seen, last.mean - first.mean),
              })
        }
        summary={say('worth.trend-summary')}
        room={room}
        table={{
          columns: [say('worth.year'), say('worth.queens'), say('worth.mean'), say('worth.apart')],
          rows: shown.map(({ year, queens, mean, sd }) => [
            String(year),
            queens,
            differenceFigure(seen, mean),
            spreadFigure(seen, sd),
          ]),
        }}
      >
        <LeftAxis
          room={room}
          at={y}
          values={ticksBetween(Math.min(0, ...ends), Math.max(0, ...ends))}
          words={(value) => differenceFigure(seen, value)}
        />
        <BelowAxis room={room} at={x} values={shown.map(({ year }) => year)} words={String} title={say('worth.year')} />
        {shown.length < 2 ? null : (
          <path className="line" d={`M${shown.map(({ year, mean }) => `${x(year)} ${y(mean)}`).join('L')}`} />
        )}
        {shown.map(({ year, mean, sd, queens }) => (
          <g key={year}>
            <path className="spread-line" d={`M${x(year)} ${y(mean - sd)}V${y(mean + sd)}`} />
            <circle className={queens < 5 ? 'dot' : 'dot full'} cx={x(year)} cy={y(mean)} r="6" />
          </g>
        ))}
      </Plot>
    </section>
  );
}

/** Foretold against known, for one trait. */
function CheckPlot({ found, unit }: { found: Validation; unit: number }) {
  const room = useRoom(320);
  const { trait } = found;
  const pairs = found.pairs.map(({ queen, without, with: known }) => ({ queen, x: without * unit, y: known * unit }));
  const low = pairs.reduce((least, pair) => Math.min(least, pair.x, pair.y), Number.POSITIVE_INFINITY);
  const high = pairs.reduce((most, pair) => Math.max(most, pair.x, pair.y), Number.NEGATIVE_INFINITY);
  const x = scale([low, high], [room.left + 8, room.right - 8]);
  const y = scale([low, high], [room.bottom - 8, room.top + 8]);
  const plain = (value: number | null) => (value === null ? '–' : value.toFixed(2));
  return (
    <Plot
      title={say('worth.check-title', { trait: traitName(trait), n: found.focal })}
      summary={say('worth.check-summary')}
      room={room}
      table={{
        columns: [traitName(trait), ''],
        rows: [
          [say('worth.check-bias'), differenceWords(trait, found.bias * unit)],
          [say('worth.check-dispersion'), plain(found.dispersion)],
          [say('worth.check-correlation'), plain(found.correlation)],
          [say('worth.check-ability'), plain(found.predictiveAbility)],
          [say('worth.check-reliability'), plain(found.reliability)],
        ],
      }}
    >
      <LeftAxis room={room} at={y} values={ticksBetween(low, high)} words={(value) => differenceFigure(trait, value)} />
      <BelowAxis
        room={room}
        at={x}
        values={ticksBetween(low, high, 4)}
        words={(value) => differenceFigure(trait, value)}
        title={say('worth.check-foretold')}
      />
      <path className="usual" d={`M${x(low)} ${y(low)}L${x(high)} ${y(high)}`} />
      {pairs.map((pair) => (
        <circle key={pair.queen} className="dot" cx={x(pair.x)} cy={y(pair.y)} r="4" />
      ))}
    </Plot>
  );
}

function CheckNumbers({ found, unit }: { found: Validation; unit: number }) {
  return (
    <dl className="now">
      <div>
        <dt>{say('worth.check-bias')}</dt>
        <dd>{differenceWords(found.trait, found.bias * unit)}</dd>
      </div>
      <div>
        <dt>{say('worth.check-dispersion')}</dt>
        <dd>{found.dispersion.toFixed(2)}</dd>
      </div>
      <div>
        <dt>{say('worth.check-ability')}</dt>
        <dd>{found.predictiveAbility === null ? '–' : found.predictiveAbility.toFixed(2)}</dd>
      </div>
    </dl>
  );
}

/** How far worth can be believed: the records of a birth year left out, with pictures; refused when fewer than fifty queens would be compared. */
export function Check({ line, told }: { line: RunLine; told: RunTold }) {
  const work = useWork();
  const years = told.focal;
  const [year, setYear] = useState(String(years[0]?.year ?? ''));
  const [checked, setChecked] = useState<YearCheck | null>(null);
  const check = async () =>
    setChecked(await work.run<YearCheck>('run-validation', { year: Number(year) }, { brings: inputOfRun(line) }));
  return (
    <section className="stack tight" aria-labelledby="check">
      <h2 id="check">{say('worth.check')}</h2>
      <p>{say('worth.check-what')}</p>
      {years.length === 0 ? (
        <p>{say('worth.check-none')}</p>
      ) : (
        <div className="form check-form">
          <SelectField
            label={say('worth.check-year')}
            value={year}
            onChange={setYear}
            choices={years.map(({ year: born, queens }) => ({ value: String(born), words: `${born} (${queens})` }))}
          />
          <button type="button" className="button" onClick={() => void check()} disabled={work.progress !== null}>
            {say('worth.check-do')}
          </button>
        </div>
      )}
      <div role="status" className="stack">
        {checked === null ? null : 'traits' in checked ? (
          <div className="plots">
            {checked.traits.map((found) => (
              <div key={found.trait} className="stack tight">
                <CheckPlot found={found} unit={line.units[found.trait] ?? 1} />
                <CheckNumbers found={found} unit={line.units[found.trait] ?? 1} />
              </div>
            ))}
          </div>
        ) : 'refused' in checked && checked.refused === 'few-focal' ? (
          <p className="doubtful">{say('worth.check-few', { focal: checked.focal, year: String(checked.year) })}</p>
        ) : (
          <p className="doubtful">{say('worth.check-nothing-left')}</p>
        )}
      </div>
    </section>
  );
}
