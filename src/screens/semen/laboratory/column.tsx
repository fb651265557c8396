import { columnLength, columnVolume } from '#domain/laboratory/bore.ts';
import { sphereVolume, storedSpermBand } from '#domain/laboratory/spermatheca.ts';
import { microlitres, millimetres } from '#units/volume.ts';
import { say, sayAny } from '#words/say.ts';
import { NumberField } from '../../parts/form.tsx';
import { Answer, Section, useNumbers } from './parts.tsx';

/** Volume and length of a column in a bore. */
export function Column() {
  const { typed, field } = useNumbers({ bore: 0.5, volume: 8, length: 40 });
  const { bore, volume, length } = typed;
  const known = bore !== null && bore > 0;
  return (
    <Section id="column" title="semen.lab.column">
      <div className="form">
        <div className="fields">
          <NumberField label={say('semen.bore')} unit="mm" {...field('bore')} />
          <NumberField label={say('semen.step.volume')} unit="µl" {...field('volume')} />
          <NumberField label={say('semen.lab.length')} unit="mm" {...field('length')} />
        </div>
      </div>
      <Answer>
        {known && volume !== null
          ? say('semen.lab.column-is', {
              volume,
              length: columnLength(millimetres(bore), microlitres(volume)).toFixed(2),
            })
          : say('semen.lab.fill-in')}
      </Answer>
      <Answer>
        {known && length !== null
          ? say('semen.lab.length-is', {
              length,
              volume: columnVolume(millimetres(bore), millimetres(length)).toFixed(2),
            })
          : ''}
      </Answer>
      <p className="note">{say('semen.lab.column-rests')}</p>
    </Section>
  );
}

/** The volume of a spermatheca by its diameters, and what stored sperm is held to mean. */
export function Spermatheca() {
  const { typed, field } = useNumbers({ one: 1.2, other: 1.2, sperm: 5 });
  const { one, other, sperm } = typed;
  const diameter = one === null || other === null ? null : (one + other) / 2;
  return (
    <Section id="spermatheca" title="semen.lab.spermatheca">
      <div className="form">
        <div className="fields">
          <NumberField label={say('semen.lab.diameter-one')} unit="mm" {...field('one')} />
          <NumberField label={say('semen.lab.diameter-other')} unit="mm" {...field('other')} />
          <NumberField label={say('semen.lab.stored')} unit={say('semen.lab.million')} {...field('sperm')} />
        </div>
      </div>
      <Answer>
        {diameter === null || diameter < 0
          ? say('semen.lab.fill-in')
          : say('semen.lab.sphere-is', { volume: sphereVolume(millimetres(diameter)).toFixed(3) })}
      </Answer>
      {sperm === null ? null : <p>{sayAny(`semen.lab.band.${storedSpermBand(sperm)}`)}</p>}
      <p className="note">{say('semen.lab.sphere-rests')}</p>
    </Section>
  );
}
