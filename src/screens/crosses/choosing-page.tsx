import { useNavigate } from '@tanstack/react-router';
import { useRef } from 'react';
import { type Candidate, choosing } from '#questions/crosses/choosing.ts';
import { crossBrood } from '#questions/crosses/cross-brood.ts';
import { crossGrid } from '#questions/crosses/cross-grid.ts';
import type { RecordId } from '#units/record-id.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { useDraft } from '../parts/form.tsx';
import { calledOf, LivingState } from '../parts/identity-band.tsx';
import { useWidth } from '../rearing/use-width.ts';
import { AreaSquare } from '../stock/area-square.tsx';
import { Assumptions } from '../stock/assumptions.tsx';
import { QueenLink } from '../stock/queen-link.tsx';
import { startDraft } from './cross-form.ts';
import { Pairs } from './cross-grid.tsx';
import { livingWords } from './cross-words.ts';
import { CrossesNav } from './crosses-nav.tsx';

type Tray = { dams: string[]; drones: string[] };

const withOrWithout = (list: readonly string[], id: string): string[] =>
  list.includes(id) ? list.filter((each) => each !== id) : [...list, id];

function Kinship({ value }: { value: number }) {
  return (
    <span className="grid-cell">
      <AreaSquare value={value} most={0.5} /> {figure(value, 3)}
    </span>
  );
}

function SideToggles({
  id,
  called,
  tray,
  put,
}: {
  id: string;
  called: string;
  tray: Tray;
  put: (some: Partial<Tray>) => void;
}) {
  return (
    <span className="side-toggles">
      <button
        type="button"
        className="chip"
        aria-pressed={tray.dams.includes(id)}
        aria-label={say('choosing.on-queen-side', { code: called })}
        onClick={() => put({ dams: withOrWithout(tray.dams, id) })}
      >
        {say('choosing.queen')}
      </button>
      <button
        type="button"
        className="chip"
        aria-pressed={tray.drones.includes(id)}
        aria-label={say('choosing.on-drone-side', { code: called })}
        onClick={() => put({ drones: withOrWithout(tray.drones, id) })}
      >
        {say('choosing.drone')}
      </button>
    </span>
  );
}

/** Mark and code, and below them line, living state and her own inbreeding where there is any. */
function WhoSheIs({ candidate }: { candidate: Candidate }) {
  const { face, inbreeding } = candidate;
  return (
    <span className="who-she-is">
      <QueenLink queen={face} />
      <span className="note">
        {face.line === null ? null : <span>{face.line}</span>}
        {face.living === 'alive' ? null : (
          <LivingState living={face.living} words={livingWords(candidate) ?? undefined} />
        )}
        {inbreeding === null || inbreeding < 0.0005 ? null : (
          <span>{say('choosing.own-inbreeding', { value: figure(inbreeding, 3) })}</span>
        )}
      </span>
    </span>
  );
}

function columnsFor(tray: Tray, put: (some: Partial<Tray>) => void): Column<Candidate>[] {
  return [
    {
      key: 'code',
      label: say('choosing.candidate'),
      lead: true,
      by: ({ face }) => calledOf(face),
      cell: (row) => <WhoSheIs candidate={row} />,
    },
    {
      key: 'side',
      label: say('choosing.use-as'),
      cell: ({ face }) => <SideToggles id={face.id} called={calledOf(face)} tray={tray} put={put} />,
    },
    {
      key: 'age',
      label: say('choosing.age'),
      number: true,
      by: ({ age }) => age,
      cell: ({ age }) => (age === null ? null : say('choosing.years', { n: age })),
    },
    {
      key: 'as-dam',
      label: say('choosing.as-dam'),
      number: true,
      by: ({ asDam }) => asDam,
      cell: ({ asDam }) => (asDam === null ? null : <Kinship value={asDam} />),
    },
    {
      key: 'as-drone-mother',
      label: say('choosing.as-drone-mother'),
      number: true,
      by: ({ asDroneMother }) => asDroneMother,
      cell: ({ asDroneMother }) => (asDroneMother === null ? null : <Kinship value={asDroneMother} />),
    },
  ];
}

type SideProps = {
  title: string;
  hint: string;
  ids: readonly string[];
  all: readonly Candidate[];
  onTakeOut: (id: string) => void;
};

function TraySide({ title, hint, ids, all, onTakeOut }: SideProps) {
  const chosen = ids.flatMap((id) => all.find(({ face }) => face.id === id) ?? []);
  return (
    <section>
      <h2>{title}</h2>
      {chosen.length === 0 ? <p className="soft">{hint}</p> : null}
      <ul>
        {chosen.map(({ face }) => (
          <li key={face.id}>
            <QueenLink queen={face} />
            <button
              type="button"
              className="button quiet"
              aria-label={say('choose.take-out', { code: calledOf(face) })}
              onClick={() => onTakeOut(face.id)}
            >
              ✕
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function GridOfTray({ tray }: { tray: Tray }) {
  const navigate = useNavigate();
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box, 900);
  const dams = tray.dams as RecordId[];
  const drone_mothers = tray.drones as RecordId[];
  const query = useAsk(crossGrid, { dams, drone_mothers });
  const pairs = drone_mothers.flatMap((queen) => dams.map((dam) => ({ dam, drone_sources: [{ queen }] })));
  const brood = useAsk(crossBrood, { crosses: pairs.slice(0, 400) }, pairs.length <= 400);
  const make = ({ dam, droneMother }: { dam: string; droneMother: string }) => {
    startDraft({ dams: [dam], sources: [{ chosen: `queen ${droneMother}`, percent: null }] });
    void navigate({ to: '/crosses/new' });
  };
  return (
    <div ref={box} className="stack tight">
      <h2>{say('choosing.grid')}</h2>
      <Asked query={query}>
        {(grid) => (
          <>
            <Pairs grid={grid} brood={brood.data} onMake={make} narrow={width < 110 * (grid.dams.length + 1)} />
            <p className="note">{say('choosing.grid-how', { limit: Math.round((brood.data?.limit ?? 0.85) * 100) })}</p>
            <Assumptions assumptions={grid.assumptions} />
          </>
        )}
      </Asked>
    </div>
  );
}

/** The choosing bench: candidates as rows, a tray with both sides, and the grid of every pair in it. */
export function ChoosingPage() {
  const navigate = useNavigate();
  const [tray, put, clear] = useDraft<Tray>('choosing-tray', { dams: [], drones: [] });
  const input = { today: today(), dams: tray.dams as RecordId[], drone_mothers: tray.drones as RecordId[] };
  const query = useAsk(choosing, input);
  const plan = () => {
    startDraft({
      dams: tray.dams,
      sources: tray.drones.map((id) => ({ chosen: `queen ${id}`, percent: null })),
    });
    void navigate({ to: '/crosses/new' });
  };
  const ready = tray.dams.length > 0 && tray.drones.length > 0;
  return (
    <section className="stack">
      <h1>{say('cross.choose')}</h1>
      <CrossesNav />
      <Asked query={query}>
        {({ candidates }) =>
          candidates.length === 0 ? (
            <section className="empty">
              <p>{say('choosing.empty')}</p>
            </section>
          ) : (
            <>
              <div className="tray">
                <TraySide
                  title={say('cross.queen-side')}
                  hint={say('choosing.queen-hint')}
                  ids={tray.dams}
                  all={candidates}
                  onTakeOut={(id) => put({ dams: withOrWithout(tray.dams, id) })}
                />
                <TraySide
                  title={say('cross.drone-side')}
                  hint={say('choosing.drone-hint')}
                  ids={tray.drones}
                  all={candidates}
                  onTakeOut={(id) => put({ drones: withOrWithout(tray.drones, id) })}
                />
                {ready ? (
                  <div className="cluster">
                    <button type="button" className="button main" onClick={plan}>
                      {say('choosing.plan')}
                    </button>
                    <button type="button" className="button" onClick={clear}>
                      {say('choosing.clear')}
                    </button>
                  </div>
                ) : null}
              </div>
              {ready ? <GridOfTray tray={tray} /> : null}
              <h2>{say('choosing.candidates')}</h2>
              <p className="note">{say('choosing.how')}</p>
              <BookTable
                label={say('choosing.candidates')}
                rows={candidates}
                columns={columnsFor(tray, put)}
                rowKey={({ face }) => face.id}
                initial={{ key: 'code', down: false }}
              />
            </>
          )
        }
      </Asked>
    </section>
  );
}
