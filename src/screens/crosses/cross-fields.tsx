import { say } from '#words/say.ts';
import { ChooseQueens } from '../parts/choose-record.tsx';
import { DayField } from '../parts/day-words.tsx';
import { ChoiceField, NumberField, SelectField, TextArea, TextField, TickField } from '../parts/form.tsx';
import { profileWords } from '../rearing/profile-words.ts';
import { DroneSideFields } from './choose-source.tsx';
import { type CrossDraft, type ProfileChoice, profileTyped } from './cross-form.ts';

type FieldsProps = { draft: CrossDraft; put: (some: Partial<CrossDraft>) => void; choices?: ProfileChoice | undefined };

function WhoFields({ draft, put }: FieldsProps) {
  return (
    <>
      <fieldset>
        <legend>{say('cross.queen-side')}</legend>
        <ChooseQueens
          label={say('cross.queen-mothers')}
          hint={say('cross.queen-mothers-hint')}
          values={draft.dams}
          onChange={(dams) => put({ dams })}
          which="all"
          at="dams"
        />
      </fieldset>
      <fieldset>
        <legend>{say('cross.drone-side')}</legend>
        <DroneSideFields sources={draft.sources} onChange={(sources) => put({ sources })} />
      </fieldset>
    </>
  );
}

function WhatFields({ draft, put }: FieldsProps) {
  return (
    <fieldset>
      <legend>{say('cross.what')}</legend>
      <div className="fields">
        <TextField
          label={say('cross.code')}
          value={draft.code}
          onChange={(code) => put({ code })}
          at="cross.code"
          code
          needed
        />
        <NumberField
          label={say('cross.queens-wanted')}
          value={draft.queens_wanted}
          onChange={(queens_wanted) => put({ queens_wanted })}
          at="cross.queens_wanted"
          needed
        />
        <NumberField
          label={say('cross.dose')}
          unit="µl"
          hint={say('cross.dose-hint')}
          value={draft.dose_ul}
          onChange={(dose_ul) => put({ dose_ul })}
          at="cross.dose_ul"
          needed
        />
        <NumberField
          label={say('cross.drones')}
          hint={say('cross.drones-hint')}
          value={draft.drones}
          onChange={(drones) => put({ drones })}
          at="cross.drones"
        />
        <ChoiceField
          label={say('cross.doses')}
          value={draft.doses}
          onChange={(doses) => put({ doses })}
          at="cross.doses"
          choices={[
            { value: '1', words: say('cross.one-dose') },
            { value: '2', words: say('cross.two-doses') },
          ]}
        />
        <TextArea
          label={say('cross.purpose')}
          hint={say('cross.purpose-hint')}
          value={draft.purpose}
          onChange={(purpose) => put({ purpose })}
          at="cross.purpose"
        />
      </div>
    </fieldset>
  );
}

function WhenFields({ draft, put, choices }: FieldsProps) {
  const { usual } = profileTyped(draft, choices);
  const days = say('cross.days');
  return (
    <fieldset>
      <legend>{say('cross.when')}</legend>
      <div className="fields">
        <DayField
          label={say('cross.insemination-day')}
          value={draft.inseminate_on}
          onChange={(inseminate_on) => put({ inseminate_on })}
          at="cross.inseminate_on"
        />
        <DayField
          label={say('cross.latest')}
          value={draft.latest_on}
          onChange={(latest_on) => put({ latest_on })}
          at="cross.latest_on"
        />
        <SelectField
          label={say('cross.profile')}
          value={draft.profile}
          onChange={(profile) => put({ profile })}
          at="cross.profile"
          choices={[
            {
              value: '',
              words: say('cross.usual-profile', { profile: profileWords(choices?.usual ?? 'standard-text') }),
            },
            ...(choices?.profiles ?? []).map(({ profile: { name } }) => ({ value: name, words: profileWords(name) })),
          ]}
        />
        <NumberField
          label={say('cross.larva-age')}
          unit={say('cross.hours')}
          hint={say('cross.larva-age-hint')}
          value={draft.larva_age_hours}
          onChange={(larva_age_hours) => put({ larva_age_hours })}
          at="cross.larva_age_hours"
        />
        <NumberField
          label={say('cross.celsius')}
          unit="°C"
          hint={say('cross.celsius-hint')}
          value={draft.brood_celsius}
          onChange={(brood_celsius) => put({ brood_celsius })}
          at="cross.brood_celsius"
        />
        <NumberField
          label={say('cross.queen-age')}
          unit={days}
          hint={say('cross.usual', { usual: String(usual.queenAge) })}
          value={draft.queen_age}
          onChange={(queen_age) => put({ queen_age })}
          at="cross.queen_age"
        />
        <NumberField
          label={say('cross.drone-age-from')}
          unit={days}
          hint={say('cross.usual', { usual: String(usual.droneAge.from) })}
          value={draft.drone_age_from}
          onChange={(drone_age_from) => put({ drone_age_from })}
          at="cross.drone_age_from"
        />
        <NumberField
          label={say('cross.drone-age-to')}
          unit={days}
          hint={say('cross.usual', { usual: String(usual.droneAge.to) })}
          value={draft.drone_age_to}
          onChange={(drone_age_to) => put({ drone_age_to })}
          at="cross.drone_age_to"
        />
        <NumberField
          label={say('cross.hold-days')}
          unit={days}
          hint={say('cross.usual', { usual: String(usual.holdDays) })}
          value={draft.hold_days}
          onChange={(hold_days) => put({ hold_days })}
          at="cross.hold_days"
        />
      </div>
      <div className="cluster">
        <TickField
          label={say('cross.drones-there')}
          value={draft.drones_there}
          onChange={(drones_there) => put({ drones_there })}
        />
        <TickField
          label={say('cross.virgins-there')}
          value={draft.virgins_there}
          onChange={(virgins_there) => put({ virgins_there })}
        />
      </div>
    </fieldset>
  );
}

function StandInFields({ draft, put }: FieldsProps) {
  return (
    <fieldset>
      <legend>{say('cross.stand-ins')}</legend>
      <div className="fields">
        <ChooseQueens
          label={say('cross.stand-in-queens')}
          values={draft.standInQueens}
          onChange={(standInQueens) => put({ standInQueens })}
          which="all"
          hint={say('cross.stand-in-hint')}
        />
        <ChooseQueens
          label={say('cross.stand-in-drones')}
          values={draft.standInDrones}
          onChange={(standInDrones) => put({ standInDrones })}
          which="all"
        />
      </div>
    </fieldset>
  );
}

/** Every field of a plan, in the order it is thought: who, how many, when, and who stands in. */
export function CrossFields(props: FieldsProps) {
  return (
    <>
      <WhoFields {...props} />
      <WhatFields {...props} />
      <WhenFields {...props} />
      <StandInFields {...props} />
    </>
  );
}
