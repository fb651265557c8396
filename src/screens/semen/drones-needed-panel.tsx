import { useState } from 'react';
import { type DroneWish, dronesNeeded, droneWishRefusals } from '#domain/rearing/drones-needed.ts';
import { say, sayProblem } from '#words/say.ts';
import { NumberField } from '../parts/form.tsx';

type Typed = Record<'queens' | 'dose' | 'reserve' | 'perDrone' | 'yielding' | 'sure', number | null>;

const start: Typed = { queens: 12, dose: 8, reserve: 10, perDrone: 1, yielding: 50, sure: 90 };

/** The wish typed so far, in shares; null while a field is empty. */
function wishOf({ queens, dose, reserve, perDrone, yielding, sure }: Typed): DroneWish | null {
  if (queens === null || dose === null || reserve === null || perDrone === null || yielding === null || sure === null)
    return null;
  return { queens, dose, reserve: reserve / 100, perDrone, yielding: yielding / 100, sure: sure / 100 };
}

/** How many mature drones to have on the day, worked out while it is typed. */
export function DronesNeededPanel() {
  const [typed, setTyped] = useState<Typed>(start);
  const field = (name: keyof Typed) => ({
    value: typed[name],
    onChange: (value: number | null) => setTyped({ ...typed, [name]: value }),
  });
  const wish = wishOf(typed);
  const [refused] = wish === null ? [] : droneWishRefusals(wish);
  const needed = wish === null || refused !== undefined ? null : dronesNeeded(wish);
  return (
    <section className="stack tight" aria-labelledby="drones-needed">
      <h2 id="drones-needed">{say('semen.drones-needed')}</h2>
      <div className="form">
        <div className="fields">
          <NumberField label={say('semen.needed.queens')} {...field('queens')} />
          <NumberField label={say('semen.needed.dose')} unit="µl" {...field('dose')} />
          <NumberField label={say('semen.needed.reserve')} unit="%" {...field('reserve')} />
          <NumberField label={say('semen.needed.per-drone')} unit="µl" {...field('perDrone')} />
          <NumberField label={say('semen.needed.yielding')} unit="%" {...field('yielding')} />
          <NumberField label={say('semen.needed.sure')} unit="%" {...field('sure')} />
        </div>
      </div>
      <p className="lead" role="status">
        {refused !== undefined
          ? sayProblem(refused)
          : needed === null
            ? say('semen.needed.fill-in')
            : say('semen.needed.answer', {
                drones: needed.matureDrones,
                donors: needed.donors,
                semen: needed.semenMicrolitres.toFixed(1),
                sure: Math.round(needed.probability * 100),
              })}
      </p>
      <p className="note">{say('semen.needed.rests-on')}</p>
    </section>
  );
}
