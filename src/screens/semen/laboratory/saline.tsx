import { useState } from 'react';
import { recordSalineBatch } from '#actions/stock/record-plain.ts';
import { makeSaline, recipeNamed, recipes } from '#domain/laboratory/saline.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { NumberField, SelectField, TextField } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';
import { Answer, Section, useNumbers } from './parts.tsx';

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

/** A recipe scaled to a volume, millimolar from molar masses, and the batch written down. */
export function SalineRecipe() {
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
