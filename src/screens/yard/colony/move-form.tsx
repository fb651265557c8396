import { useState } from 'react';
import { moveColony } from '#actions/yard/change-place.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { ChooseRecord } from '../../parts/choose-record.tsx';
import { DayField } from '../../parts/day-words.tsx';
import { Form, NumberField } from '../../parts/form.tsx';
import { Caution } from '../cautions.tsx';
import { useYards } from '../new-colony-page.tsx';
import type { ActFormProps } from './act-form.ts';
import { happened, useColonyAct } from './use-colony-act.ts';

/** Moves this colony to another yard or spot. */
export function MoveForm({ leaf, onDone }: ActFormProps) {
  const { run, problems, busy, done } = useColonyAct(onDone);
  const yards = useYards();
  const [yard, setYard] = useState<string | null>(leaf.nuc.yard?.id ?? null);
  const [spot, setSpot] = useState<number | null>(leaf.nuc.spot);
  const [on, setOn] = useState<Day | null>(today());
  const keep = async () => {
    const where = { yard: yard as RecordId, ...(spot === null ? {} : { spot }), on: on ?? today() };
    const did = await run(moveColony, { colony: leaf.nuc.id, ...where }, happened);
    done(did, say('colony.moved', { code: leaf.nuc.code }));
  };
  return (
    <Form act={say('colony.move')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <div className="fields">
        <ChooseRecord label={say('colony.yard')} items={yards} value={yard} onChange={setYard} at="yard" needed />
        <NumberField label={say('colony.spot')} value={spot} onChange={setSpot} at="spot" />
        <DayField label={say('colony.on')} value={on} onChange={setOn} at="on" />
      </div>
      <Caution of="moving" />
    </Form>
  );
}
