import { useState } from 'react';
import { donorDots } from '#domain/rearing/donor-dots.ts';
import { dronesNeeded, droneWishRefusals } from '#domain/rearing/drones-needed.ts';
import { figure } from '#words/queen-words.ts';
import { say, sayProblem } from '#words/say.ts';
import { DotQuantiles } from '../parts/dot-quantiles.tsx';
import { NumberField } from '../parts/form.tsx';

type HowManyProps = { queens: number; dose: number; doses: number; perDrone: number };

/** How many drones to have on the day: what is wanted, what one gives, how many give, how sure. */
export function HowMany({ queens, dose, doses, perDrone }: HowManyProps) {
  const [reserve, setReserve] = useState<number | null>(10);
  const [each, setEach] = useState<number | null>(perDrone);
  const [yielding, setYielding] = useState<number | null>(50);
  const [sure, setSure] = useState<number | null>(90);
  const wish = {
    queens,
    dose: dose * doses,
    reserve: (reserve ?? Number.NaN) / 100,
    perDrone: each ?? Number.NaN,
    yielding: (yielding ?? Number.NaN) / 100,
    sure: (sure ?? Number.NaN) / 100,
  };
  const refused = droneWishRefusals(wish);
  const needed = refused.length === 0 ? dronesNeeded(wish) : null;
  return (
    <details className="how-many sheet">
      <summary>{say('many.title')}</summary>
      <div className="stack tight">
        {needed === null ? (
          refused.map((problem) => (
            <p key={problem.path} className="problem">
              {sayProblem(problem)}
            </p>
          ))
        ) : (
          <>
            <p className="lead">
              <strong>{say('many.drones', { n: needed.matureDrones })}</strong>
            </p>
            <p>
              {say('many.sum', {
                queens,
                dose: figure(dose * doses, 1),
                reserve: reserve ?? 0,
                semen: figure(needed.semenMicrolitres, 1),
                donors: needed.donors,
              })}
            </p>
            <DotQuantiles
              dots={donorDots(needed.matureDrones, wish.yielding)}
              needed={needed.donors}
              words={(n) => say('many.donors', { n: Math.round(n) })}
            />
          </>
        )}
        <div className="form">
          <div className="fields">
            <NumberField label={say('many.reserve')} unit="%" value={reserve} onChange={setReserve} />
            <NumberField label={say('many.per-drone')} unit="µl" value={each} onChange={setEach} />
            <NumberField label={say('many.yielding')} unit="%" value={yielding} onChange={setYielding} />
            <NumberField label={say('many.sure')} unit="%" value={sure} onChange={setSure} />
          </div>
        </div>
        <p className="note">{say('many.sources')}</p>
      </div>
    </details>
  );
}
