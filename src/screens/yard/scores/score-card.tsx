import { useState } from 'react';
import { scoreColony } from '#actions/yard/score-colony.ts';
import type { ScoredNuc } from '#questions/yard/score-cards.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { ChoiceField, Form } from '../../parts/form.tsx';
import { calledOf } from '../../parts/identity-band.tsx';
import { tell } from '../../parts/told.tsx';
import { TwoFacts } from '../round/nuc-card.tsx';
import { CountedField } from './counted-fields.tsx';
import { type Draft, type Entry, readingsOf } from './draft.ts';
import { KeptCard } from './kept-card.tsx';
import { CountTest } from './open-tests.tsx';
import { StepsField } from './steps-field.tsx';
import { type Readable, readables, scaleTraits } from './traits.ts';
import type { Kept } from './use-cards.ts';
import { whoseWords } from './whose.tsx';

type Seen = 'seen' | 'not-seen' | 'unmarked' | '';
const seenWords = {
  seen: 'score.seen',
  'not-seen': 'score.not-seen',
  unmarked: 'score.unmarked',
  '': 'score.not-said',
} as const;
const reasons = ['weather', 'too-weak', 'queen-unsure', 'no-time'] as const;

/** Not judged is not 0: one reason for the scales of this card. */
function NotJudged({ chosen, onChoose }: { chosen: string | null; onChoose: (why: Entry['not_judged']) => void }) {
  const [open, setOpen] = useState(false);
  if (!open && chosen === null)
    return (
      <button type="button" className="button round-button" onClick={() => setOpen(true)}>
        {say('score.not-judged')} …
      </button>
    );
  return (
    <fieldset className="spring-choices">
      <legend>{say('score.why-not')}</legend>
      {reasons.map((why) => (
        <button
          key={why}
          type="button"
          className="spring-choice"
          aria-pressed={chosen === why}
          onClick={() => onChoose(chosen === why ? undefined : why)}
        >
          {sayAny(`score.why.${why}`)}
        </button>
      ))}
    </fieldset>
  );
}

/** The three scales, or why they are not judged. */
function Behaviour({ draft, onDraft }: { draft: Draft; onDraft: (draft: Draft) => void }) {
  const why = draft.gentleness?.not_judged ?? null;
  const refuse = (not_judged: Entry['not_judged']) =>
    onDraft({
      ...draft,
      ...Object.fromEntries(scaleTraits.map((trait) => [trait, not_judged === undefined ? {} : { not_judged }])),
    });
  return (
    <>
      {why !== null
        ? null
        : scaleTraits.map((trait) => (
            <StepsField
              key={trait}
              trait={trait}
              value={draft[trait]?.value ?? null}
              onPut={(value) => onDraft({ ...draft, [trait]: { value } })}
            />
          ))}
      <NotJudged chosen={why} onChoose={refuse} />
    </>
  );
}

type CardProps = {
  nuc: ScoredNuc;
  /** The visit and who judges. */
  visit: string | null;
  person: string;
  reads: readonly Readable[];
  onKept: (kept: Kept) => void;
};

function Fresh({ nuc, visit, person, reads, onKept }: CardProps) {
  const { run, problems, busy } = useDo();
  const [draft, setDraft] = useState<Draft>({});
  const [seen, setSeen] = useState<Seen>('');
  const keep = async () => {
    const readings = readingsOf(draft);
    if (readings.length === 0) return tell(say('score.nothing'));
    const by = person === '' ? {} : { person: person as RecordId };
    const on = visit === null ? {} : { visit: visit as RecordId };
    const same = seen === '' ? {} : { queen_seen: seen };
    const input = { colony: nuc.id, day: today(), readings, ...by, ...on, ...same };
    const did = await run(scoreColony, input, { happened: true });
    if ('problems' in did) return;
    tell(say('score.kept', { code: nuc.code }));
    onKept({ act: did.act, what: say('score.did-card') });
  };
  return (
    <Form act={say('score.keep')} onSubmit={keep} problems={problems} busy={busy}>
      <ChoiceField
        label={say('score.same-queen')}
        value={seen}
        onChange={setSeen}
        choices={(['seen', 'not-seen', 'unmarked', ''] as const).map((value) => ({
          value,
          words: sayAny(seenWords[value]),
        }))}
      />
      {readables
        .filter((each) => reads.includes(each))
        .map((each) =>
          each === 'behaviour' ? (
            <Behaviour key={each} draft={draft} onDraft={setDraft} />
          ) : (
            <CountedField
              key={each}
              trait={each}
              entry={draft[each] ?? {}}
              onPut={(some) => setDraft((before) => ({ ...before, [each]: { ...before[each], ...some } }))}
            />
          ),
        )}
    </Form>
  );
}

/** Something was kept of this colony today, a test begun included. */
export const isKeptToday = ({ today: kept, open }: ScoredNuc): boolean =>
  kept.length > 0 || open.some(({ begun }) => begun === today());

/** The card of one colony: its two facts, whose a reading is, tests to count, what is read today; afterwards what was kept. */
export function ScoreCard(props: CardProps) {
  const { nuc, person, onKept } = props;
  const [again, setAgain] = useState(false);
  const isKept = isKeptToday(nuc) && !again;
  const keep = (kept: Kept) => {
    setAgain(false);
    onKept(kept);
  };
  const { hers, why, countsFrom } = nuc.belongs;
  const code = nuc.head === null ? '' : calledOf(nuc.head);
  return (
    <article className="stack score-card" aria-label={nuc.code}>
      {nuc.head === null ? null : <TwoFacts nuc={nuc} queen={nuc.head} />}
      {isKept || hers === 'wholly' ? null : (
        <p className="whose late">{whoseWords({ hers, why, code, countsFrom, on: today() })}</p>
      )}
      {nuc.open
        .filter(({ begun }) => begun < today())
        .map((test) => (
          <CountTest key={test.id} test={test} code={nuc.code} person={person} onKept={keep} />
        ))}
      {isKept ? <KeptCard nuc={nuc} onAgain={() => setAgain(true)} /> : <Fresh {...props} onKept={keep} />}
    </article>
  );
}
