import '../style/semen.css';
import { Link } from '@tanstack/react-router';
import { type ReactNode, useState } from 'react';
import { recordSalineBatch } from '#actions/stock/record-plain.ts';
import { columnLength, columnVolume } from '#domain/laboratory/bore.ts';
import { type ChamberField, countedVolume } from '#domain/laboratory/chamber.ts';
import { makeSaline, recipeNamed, recipes } from '#domain/laboratory/saline.ts';
import { spermCount } from '#domain/laboratory/sperm-count.ts';
import { sphereVolume, storedSpermBand } from '#domain/laboratory/spermatheca.ts';
import { checkTwoChambers } from '#domain/laboratory/two-chambers.ts';
import { viability } from '#domain/laboratory/viability.ts';
import { microlitres, millimetres } from '#units/volume.ts';
import { say, sayAny, type WordId } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useDo } from '../link/use-do.ts';
import { NumberField, SelectField, TextField } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { DronesNeededPanel } from './drones-needed-panel.tsx';

type Numbers<K extends string> = Record<K, number | null>;

/** Fields of numbers and what they give: worked out while it is typed, `null` while something is missing. */
function useNumbers<K extends string>(start: Numbers<K>) {
  const [typed, setTyped] = useState(start);
  const field = (name: K) => ({
    value: typed[name],
    onChange: (value: number | null) => setTyped({ ...typed, [name]: value }),
  });
  return { typed, field };
}

function Section({ id, title, children }: { id: string; title: WordId; children: ReactNode }) {
  return (
    <section className="stack tight laboratory" aria-labelledby={id}>
      <h2 id={id}>{say(title)}</h2>
      {children}
    </section>
  );
}

const Answer = ({ children }: { children: ReactNode }) => (
  <p className="lead" role="status">
    {children}
  </p>
);

const whole = (n: number): string => Math.round(n).toLocaleString('en-GB').replaceAll(',', '\u2009');
const percent = (share: number): string => (share * 100).toFixed(1);
const fields: readonly ChamberField[] = ['group', 'large-square', 'small-square', 'ruled-area'];

function Count() {
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

function TwoChambers() {
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

function Viability() {
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

function Column() {
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

function SalineBatch({ recipe }: { recipe: string }) {
  const [code, setCode] = useState('');
  const [antibiotic, setAntibiotic] = useState('');
  const { run, busy } = useDo();
  const record = async () => {
    const words = antibiotic.trim();
    const did = await run(recordSalineBatch, {
      code: code.trim(),
      recipe,
      made_on: today(),
      antibiotic: words === '' ? 'none' : words,
    });
    if ('result' in did) {
      setCode('');
      tell(say('semen.lab.batch-done'));
    }
  };
  return (
    <div className="form">
      <div className="fields">
        <TextField label={say('semen.lab.batch-code')} code value={code} onChange={setCode} />
        <TextField
          label={say('semen.lab.antibiotic')}
          value={antibiotic}
          onChange={setAntibiotic}
          hint={say('semen.caution.antibiotic')}
        />
      </div>
      <div className="cluster">
        <button type="button" className="button" disabled={busy || code.trim() === ''} onClick={() => void record()}>
          {say('semen.lab.batch-record')}
        </button>
      </div>
    </div>
  );
}

function SalineRecipe() {
  const [name, setName] = useState(recipes[0]?.name ?? '');
  const { typed, field } = useNumbers({ volume: 100 });
  const recipe = recipeNamed(name);
  const made = recipe !== null && typed.volume !== null && typed.volume > 0 ? makeSaline(recipe, typed.volume) : null;
  return (
    <Section id="saline" title="semen.lab.saline">
      <p className="caution">
        <span>{say('semen.caution.chemicals-head')}</span> {say('semen.caution.chemicals')}
      </p>
      <div className="form">
        <div className="fields">
          <SelectField
            label={say('semen.lab.recipe')}
            value={name}
            onChange={setName}
            choices={recipes.map((each) => ({ value: each.name, words: sayAny(`semen.recipe.${each.name}`) }))}
          />
          <NumberField label={say('semen.lab.make')} unit="ml" {...field('volume')} />
        </div>
      </div>
      {made === null ? (
        <Answer>{say('semen.lab.fill-in')}</Answer>
      ) : (
        <>
          <table className="book">
            <thead>
              <tr>
                <th scope="col">{say('semen.lab.substance')}</th>
                <th scope="col" className="number">
                  {say('semen.lab.grams')}
                </th>
                <th scope="col" className="number">
                  {say('semen.lab.millimolar')}
                </th>
              </tr>
            </thead>
            <tbody>
              {made.components.map((component) => (
                <tr key={component.name}>
                  <th scope="row">
                    {component.name} <span className="note">{component.formula}</span>
                  </th>
                  <td className="number">{component.grams.toFixed(3)}</td>
                  <td className="number">{component.millimolar.toFixed(1)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className="note">
            {say('semen.lab.saline-rests', { osmolarity: Math.round(made.osmolarity), source: made.source })}{' '}
            {made.ph === null ? '' : say('semen.lab.ph', { ph: made.ph })}
          </p>
          <ul className="note">
            {made.cautions.map((caution) => (
              <li key={caution}>{sayAny(`semen.lab.caution.${caution}`)}</li>
            ))}
          </ul>
        </>
      )}
      <SalineBatch recipe={name} />
    </Section>
  );
}

function Spermatheca() {
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

/** Laboratory arithmetic: counts, viability, columns, saline, spermatheca, drones needed; with the cautions of each. */
export function LaboratoryPage() {
  return (
    <section className="stack wide">
      <p>
        <Link to="/semen">{say('place.semen')}</Link>
      </p>
      <h1>{say('semen.nav.laboratory')}</h1>
      <Count />
      <TwoChambers />
      <Viability />
      <Column />
      <SalineRecipe />
      <Spermatheca />
      <DronesNeededPanel />
    </section>
  );
}
