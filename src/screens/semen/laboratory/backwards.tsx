import { useState } from 'react';
import { backOutCount } from '#domain/laboratory/back-out-count.ts';
import { type DilutionStep, dilutionFactor } from '#domain/laboratory/dilution.ts';
import { say } from '#words/say.ts';
import { NumberField } from '../../parts/form.tsx';
import { Answer, Section, useNumbers } from './parts.tsx';

type Typed = { transferred: number | null; diluent: number | null };

const isStep = (step: Typed): step is DilutionStep =>
  step.transferred !== null && step.transferred > 0 && step.diluent !== null && step.diluent >= 0;

/** By how much a chain of dilutions thinned a sample: step by step, as it was done at the bench. */
export function DilutionChain() {
  const [steps, setSteps] = useState<readonly Typed[]>([{ transferred: 10, diluent: 90 }]);
  const put = (at: number, some: Partial<Typed>) =>
    setSteps(steps.map((step, i) => (i === at ? { ...step, ...some } : step)));
  const known = steps.every(isStep);
  return (
    <Section id="dilution" title="semen.lab.chain">
      {steps.map((step, i) => (
        <fieldset key={i} className="form">
          <legend>{say('semen.lab.chain-step', { n: i + 1 })}</legend>
          <div className="fields">
            <NumberField
              label={say('semen.lab.taken-over')}
              unit="µl"
              value={step.transferred}
              onChange={(transferred) => put(i, { transferred })}
            />
            <NumberField
              label={say('semen.lab.into')}
              unit="µl"
              value={step.diluent}
              onChange={(diluent) => put(i, { diluent })}
            />
          </div>
        </fieldset>
      ))}
      <div className="cluster">
        <button
          type="button"
          className="button"
          onClick={() => setSteps([...steps, { transferred: null, diluent: null }])}
        >
          {say('semen.lab.chain-more')}
        </button>
        {steps.length > 1 ? (
          <button type="button" className="button" onClick={() => setSteps(steps.slice(0, -1))}>
            {say('semen.lab.chain-less')}
          </button>
        ) : null}
      </div>
      <Answer>
        {known
          ? say('semen.lab.chain-is', { factor: Number(dilutionFactor(steps).toFixed(3)) })
          : say('semen.lab.fill-in')}
      </Answer>
    </Section>
  );
}

/** Which count gives a total somebody reported; a total no whole count gives is told as such. */
export function RawCount() {
  const { typed, field } = useNumbers({ total: 2_150_000, volume: 0.04, suspension: 500 });
  const { total, volume, suspension } = typed;
  const known = total !== null && total >= 0 && volume !== null && volume > 0 && suspension !== null && suspension > 0;
  const raw = known ? backOutCount(total, { countedVolume: volume, suspension, dilution: 1 }) : null;
  return (
    <Section id="raw-count" title="semen.lab.raw">
      <div className="form">
        <div className="fields">
          <NumberField label={say('semen.lab.reported')} {...field('total')} />
          <NumberField label={say('semen.lab.counted-in')} unit="µl" {...field('volume')} />
          <NumberField label={say('semen.lab.suspension')} unit="µl" {...field('suspension')} />
        </div>
      </div>
      <Answer>
        {raw === null
          ? say('semen.lab.fill-in')
          : say(raw.whole ? 'semen.lab.raw-is' : 'semen.lab.raw-is-none', {
              count: raw.whole ? raw.nearest : Number(raw.count.toFixed(2)),
            })}
      </Answer>
    </Section>
  );
}
