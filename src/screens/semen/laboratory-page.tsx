import '../style/semen.css';
import { Link } from '@tanstack/react-router';
import { say } from '#words/say.ts';
import { DronesNeededPanel } from './drones-needed-panel.tsx';
import { DilutionChain, RawCount } from './laboratory/backwards.tsx';
import { Column, Spermatheca } from './laboratory/column.tsx';
import { Count, TwoChambers, Viability } from './laboratory/counting.tsx';
import { SalineRecipe } from './laboratory/saline.tsx';

/** Laboratory arithmetic: counts, viability, columns, saline, spermatheca, drones needed; with the cautions of each. */
export function LaboratoryPage() {
  return (
    <section className="stack wide">
      <p>
        <Link to="/semen">{say('place.semen')}</Link>
      </p>
      <h1>{say('semen.nav.laboratory')}</h1>
      <Count />
      <DilutionChain />
      <TwoChambers />
      <RawCount />
      <Viability />
      <Column />
      <SalineRecipe />
      <Spermatheca />
      <DronesNeededPanel />
    </section>
  );
}
