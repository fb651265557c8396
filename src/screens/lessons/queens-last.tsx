import { useState } from 'react';
import type { GroupSurvival, SurvivalByGroup } from '#domain/lessons/survival-by-group.ts';
import { type LifeGroup, lifeGroups, queenSurvival } from '#questions/yard/queen-survival.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { SelectField, TickField } from '../parts/form.tsx';
import { AgesPlot } from './ages-plot.tsx';
import { sentence } from './lessons-words.ts';

const queensOf = (by: LifeGroup, group: string): string =>
  by === 'mating' ? sayAny(`lessons.last-group.${group}`) : say(`lessons.last-group.${by}`, { group });

const shortName = (by: LifeGroup, group: string): string =>
  by === 'mating' ? sayAny(`lessons.last-short.${group}`) : group;

const ratioWords = (ratio: number) => (ratio >= 10 ? ratio.toFixed(0) : ratio.toFixed(1));

/** "Inseminated queens: lost 1.6 times as often as naturally mated queens …", the test of all, or why there is none. */
function Findings({ told: { ratios, test, noRatio, changesWithAge }, by }: { told: SurvivalByGroup; by: LifeGroup }) {
  return (
    <ul className="sentences">
      {ratios.map(({ group, against, ratio, luck }) => (
        <li key={group}>
          {say('lessons.last-ratio', {
            what: sentence(queensOf(by, group)),
            against: queensOf(by, against),
            ratio: ratioWords(ratio.value),
            low: ratioWords(ratio.low),
            high: ratioWords(ratio.high),
            luck: say(`lessons.luck.${luck}`),
          })}
        </li>
      ))}
      {noRatio === null ? null : <li>{say(`lessons.last-none.${noRatio}`)}</li>}
      {test === null || (ratios.length === 1 && noRatio === null) ? null : (
        <li>
          {say(test.p < 0.01 ? 'lessons.last-test-rare' : 'lessons.last-test', {
            p: Math.round(test.p * 100),
            luck: say(`lessons.luck.${test.luck}`),
          })}
        </li>
      )}
      {changesWithAge ? <li>{say('lessons.last-changes')}</li> : null}
    </ul>
  );
}

const titleOf = (groups: readonly GroupSurvival[], by: LifeGroup) =>
  groups
    .map(({ group, lost, queens }) => sentence(say('lessons.last-title', { what: queensOf(by, group), lost, queens })))
    .join(' ');

function Told({ told, by }: { told: SurvivalByGroup; by: LifeGroup }) {
  const large = told.groups.filter(({ few }) => !few);
  const small = told.groups.filter(({ few }) => few);
  return (
    <>
      {told.groups.length === 0 ? <p>{say('lessons.last-empty')}</p> : <Findings told={told} by={by} />}
      {large.length === 0 ? null : (
        <AgesPlot groups={large} title={titleOf(large, by)} nameOf={(group) => shortName(by, group)} />
      )}
      {told.ratios.length === 0 ? null : <p className="caution note-size">{say('lessons.last-not-cause')}</p>}
      <ul className="note">
        {small.map(({ group, lost, queens }) => (
          <li key={group}>
            {sentence(say('lessons.last-few', { what: queensOf(by, group), lost, queens, few: say('lessons.few') }))}
          </li>
        ))}
        {told.leftOut.map(({ why, queens }) => (
          <li key={why}>
            {say('lessons.last-out', {
              n: queens,
              why: sayAny(why === 'no-group' ? `lessons.last-out.no-group.${by}` : `lessons.last-out.${why}`),
            })}
          </li>
        ))}
      </ul>
    </>
  );
}

const KEPT = 'combwright.queens-last-by';
const KEPT_CULLED = 'combwright.queens-last-culled';
const keptGroup = (): LifeGroup => lifeGroups.find((one) => one === localStorage.getItem(KEPT)) ?? 'mating';

/** How long laying queens last: inseminated against naturally mated, by line or by year. */
export function QueensLast() {
  const [by, setBy] = useState<LifeGroup>(keptGroup);
  const [isCulledLost, setCulledLost] = useState(() => localStorage.getItem(KEPT_CULLED) !== 'watched');
  const culled = isCulledLost ? 'lost' : 'watched';
  const query = useAsk(queenSurvival, { today: today(), by, culled });
  return (
    <section className="stack tight" aria-labelledby="queens-last">
      <h2 id="queens-last">{say('lessons.last')}</h2>
      <div className="form">
        <div className="fields">
          <SelectField
            label={say('lessons.last-by')}
            value={by}
            onChange={(group) => {
              localStorage.setItem(KEPT, group);
              setBy(group);
            }}
            choices={lifeGroups.map((value) => ({ value, words: say(`lessons.last-by.${value}`) }))}
          />
        </div>
        <TickField
          label={say('lessons.last-culled')}
          value={isCulledLost}
          onChange={(lost) => {
            localStorage.setItem(KEPT_CULLED, lost ? 'lost' : 'watched');
            setCulledLost(lost);
          }}
        />
        <p className="note">{say(`lessons.last-culled.${culled}`)}</p>
      </div>
      <Asked query={query}>{(told) => <Told told={told} by={by} />}</Asked>
    </section>
  );
}
