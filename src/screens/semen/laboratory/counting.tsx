import { useState } from 'react';
import { type ChamberField, countedVolume } from '#domain/laboratory/chamber.ts';
import { spermCount } from '#domain/laboratory/sperm-count.ts';
import { checkTwoChambers } from '#domain/laboratory/two-chambers.ts';
import { viability } from '#domain/laboratory/viability.ts';
import { say, sayAny } from '#words/say.ts';
import { NumberField, SelectField } from '../../parts/form.tsx';
import { Answer, percent, Section, useNumbers } from './parts.tsx';

const whole = (n: number): string => Math.round(n).toLocaleString('en-GB').replaceAll(',', '\u2009');
const fields: readonly ChamberField[] = ['group', 'large-square', 'small-square', 'ruled-area'];

/** Sperm in a sample from a chamber count, with the exact interval of the count alone. */
export function Count() {
  const [square, setSquare] = useState<ChamberField>('group');
  const { typed, field } = useNumbers({ counted: 172, squares: 10, suspension: 500, dilution: 1 });
  const { counted, squares, suspension, dilution } = typed;
  const known =
    counted !== null &&
    Number.isInteger(counted) &&
    counted >= 0 &&
    squares !== null &&
    squares > 0 &&
    suspension !== null &&
    suspension > 0 &&
    dilution !== null &&
    dilution >= 1;
  const volume = known ? countedVolume(square, squares) : null;
  const count = known && volume !== null ? spermCount({ counted, countedVolume: volume, suspension, dilution }) : null;
  return (
    <Section id="count" title="semen.lab.count">
      <div className="form">
        <div className="fields">
          <NumberField label={say('semen.lab.counted')} {...field('counted')} />
          <SelectField
            label={say('semen.lab.field')}
            value={square}
            onChange={setSquare}
            choices={fields.map((value) => ({ value, words: sayAny(`semen.lab.field.${value}`) }))}
          />
          <NumberField label={say('semen.lab.squares')} {...field('squares')} />
          <NumberField label={say('semen.lab.suspension')} unit="µl" {...field('suspension')} />
          <NumberField label={say('semen.lab.dilution')} unit="×" {...field('dilution')} />
        </div>
      </div>
      <Answer>
        {count === null
          ? say('semen.lab.fill-in')
          : say('semen.lab.count-is', {
              total: whole(count.total),
              low: whole(count.lowExact),
              high: whole(count.highExact),
            })}
      </Answer>
      <p className="note">
        {say('semen.lab.count-rests', { volume: volume ?? 0, cv: count?.cv == null ? '–' : percent(count.cv) })}
      </p>
    </Section>
  );
}

/** Whether two counts of one sample agree. */
export function TwoChambers() {
  const { typed, field } = useNumbers({ a: 172, b: 150 });
  const { a, b } = typed;
  const check = a === null || b === null || a < 0 || b < 0 ? null : checkTwoChambers(a, b);
  return (
    <Section id="two-chambers" title="semen.lab.two-chambers">
      <div className="form">
        <div className="fields">
          <NumberField label={say('semen.lab.first-chamber')} {...field('a')} />
          <NumberField label={say('semen.lab.second-chamber')} {...field('b')} />
        </div>
      </div>
      <Answer>
        {check === null
          ? say('semen.lab.fill-in')
          : say(check.agree ? 'semen.lab.chambers-agree' : 'semen.lab.chambers-differ', {
              difference: check.difference,
              limit: check.limit.toFixed(1),
            })}
      </Answer>
    </Section>
  );
}

/** Live and dead under a stain, with Wilson's interval. */
export function Viability() {
  const { typed, field } = useNumbers({ live: 168, dead: 32 });
  const { live, dead } = typed;
  const known =
    live !== null && dead !== null && live >= 0 && dead >= 0 && Number.isInteger(live) && Number.isInteger(dead);
  const read = known ? viability(live, dead) : null;
  return (
    <Section id="viability" title="semen.lab.viability">
      <p className="caution">
        <span>{say('semen.caution.stains-head')}</span> {say('semen.caution.stains')}
      </p>
      <div className="form">
        <div className="fields">
          <NumberField label={say('semen.lab.live')} {...field('live')} />
          <NumberField label={say('semen.lab.dead')} {...field('dead')} />
        </div>
      </div>
      <Answer>
        {read?.viability == null || read.low === null || read.high === null
          ? say('semen.lab.fill-in')
          : say('semen.lab.viability-is', {
              live: read.live,
              all: read.live + read.dead,
              share: percent(read.viability),
              low: percent(read.low),
              high: percent(read.high),
            })}
      </Answer>
      <p className="note">{say('semen.lab.viability-rests')}</p>
    </Section>
  );
}
