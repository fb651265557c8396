import { rack } from '#questions/semen/rack.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Choosable, ChooseRecord } from '../parts/choose-record.tsx';
import { NumberField, SelectField, TextField } from '../parts/form.tsx';
import { EndField } from './end-field.tsx';
import { partsWords } from './semen-words.ts';
import { collectedIn, readIn, type TallyState, type TallyTube, withBore, withHeld } from './tally-state.ts';

/** A tube that is collected into: of the rack or new, its readings before and after. */
export function TallyTubeRow({
  tube,
  at,
  put,
  state,
}: {
  tube: TallyTube;
  at: number;
  put: (next: TallyTube) => void;
  state: TallyState;
}) {
  const { data } = useAsk(rack, { rule: 'oldest', dose: 8 });
  const tubes = data?.tubes ?? [];
  const held = tubes.find(({ id }) => id === tube.tube);
  const items: Choosable[] = tubes.map(({ id, code, left, mothers }) => ({
    id,
    code,
    beside: left > 0 ? `${left.toFixed(1)} µl · ${partsWords(mothers)}` : '',
  }));
  const collected = collectedIn(tube);
  return (
    <fieldset>
      <legend>{say('semen.tally.tube', { n: at + 1 })}</legend>
      <div className="fields">
        <ChooseRecord
          label={say('semen.tally.tube-known')}
          items={items}
          value={tube.tube}
          at={`into.${at}.tube`}
          onChange={(id) => {
            const chosen = tubes.find((each) => each.id === id);
            put(withHeld(tube, chosen ?? null));
          }}
        />
        {tube.tube === null ? (
          <>
            <TextField
              label={say('semen.tally.tube-new')}
              code
              value={tube.code}
              at={`into.${at}.new.code`}
              onChange={(code) => put({ ...tube, code })}
            />
            <NumberField
              label={say('semen.bore')}
              unit="mm"
              value={tube.bore}
              at={`into.${at}.new.bore_mm`}
              onChange={(bore) => put(withBore(tube, bore))}
            />
            <TextField label={say('semen.slot')} value={tube.slot} onChange={(slot) => put({ ...tube, slot })} />
          </>
        ) : null}
        <NumberField
          label={say('semen.tally.start')}
          unit={tube.unit}
          value={tube.start}
          at={`into.${at}.start`}
          onChange={(start) => put({ ...tube, start })}
        />
        <NumberField
          label={say('semen.tally.end')}
          unit={tube.unit}
          value={tube.end}
          at={`into.${at}.end`}
          onChange={(end) => put({ ...tube, end })}
        />
        {tube.bore === null ? null : (
          <SelectField
            label={say('semen.tally.read-in')}
            value={tube.unit}
            onChange={(unit) => put(readIn(tube, unit))}
            choices={[
              { value: 'µl', words: 'µl' },
              { value: 'mm', words: 'mm' },
            ]}
          />
        )}
        <NumberField
          label={say('semen.tally.gave-here')}
          value={tube.gave}
          onChange={(gave) => put({ ...tube, gave: Math.max(0, Math.round(gave ?? 0)) })}
        />
        <NumberField
          label={say('semen.tally.soiled-here')}
          value={tube.soiled}
          onChange={(soiled) => put({ ...tube, soiled: Math.max(0, Math.round(soiled ?? 0)) })}
        />
        {state.sources.length < 2 ? null : (
          <SelectField
            label={say('semen.tally.of-mother')}
            value={tube.source === null ? '' : String(tube.source)}
            onChange={(value) => put({ ...tube, source: value === '' ? null : Number(value) })}
            choices={[
              { value: '', words: say('semen.tally.mixed') },
              ...state.sources.map((_, i) => ({ value: String(i), words: say('semen.tally.whose', { n: i + 1 }) })),
            ]}
          />
        )}
      </div>
      {collected === null ? null : <p className="note">{say('semen.tally.collected', { n: collected.toFixed(1) })}</p>}
      {tube.soiled > 0 ? <p className="problem">{say('semen.tally.soiled')}</p> : null}
      {held !== undefined && held.left > 0 ? (
        <EndField value={tube.by} onChange={(by) => put({ ...tube, by })} />
      ) : null}
      {held !== undefined && held.left > 0 ? (
        <p className="note">
          {say('semen.tally.in-it', { left: held.left.toFixed(1), mothers: partsWords(held.mothers) })}
        </p>
      ) : null}
      {held !== undefined && held.left > 0 && held.mixing === 'layered' ? (
        <p className="problem">{say('semen.tally.layers')}</p>
      ) : null}
    </fieldset>
  );
}
