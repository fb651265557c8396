import { takeSeasonPlan } from '#actions/rearing/season/take-season-plan.ts';
import { crossOfPart } from '#domain/rearing/season/cross-part.ts';
import { planToTake } from '#domain/rearing/season/plan-to-take.ts';
import type { ProposedDay, ProposedUse, SeasonProposal } from '#domain/rearing/season/season-proposal.ts';
import type { SeasonPlanPage } from '#questions/rearing/season/season-plan.ts';
import { dayWords } from '#words/day-words.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';
import { limitWords, listWords, timesOfTwenty } from './season-words.ts';
import type { Proposing } from './use-proposal.ts';

type There = Extract<Proposing, { state: 'there' }>;
type ShownProps = Omit<There, 'state'> & { page: SeasonPlanPage; onDone: () => void };

/** Codes of crosses by the names of the planner. */
const codeOf =
  ({ crosses }: SeasonPlanPage) =>
  (name: string): string =>
    crosses.find(({ id }) => id === crossOfPart(name))?.code ?? name;

function HowGood({ proposal, clash, wish }: Pick<ShownProps, 'proposal' | 'clash' | 'wish'>) {
  const { gap, queens, wanted } = proposal;
  return (
    <>
      <p>{gap < 5e-4 ? say('season.best') : say('season.gap', { percent: figure(Math.ceil(gap * 1000) / 10, 1) })}</p>
      {queens < wanted ? (
        <div className="problem" role="status">
          <p>{say('season.short', { queens, wanted })}</p>
          {clash === 'looking' ? <p className="soft">{say('season.why')}</p> : null}
          {Array.isArray(clash) && clash.length > 0 ? (
            <p>
              {say(clash.length === 1 ? 'season.in-the-way' : 'season.clash', {
                limits: listWords(clash.map((name) => limitWords(name, wish.limits))),
              })}
            </p>
          ) : null}
          {Array.isArray(clash) && clash.includes('today') ? <p>{say('season.clash-today')}</p> : null}
          {clash === null || (Array.isArray(clash) && clash.length === 0) ? <p>{say('season.no-clash')}</p> : null}
        </div>
      ) : null}
    </>
  );
}

function DayRow({
  day,
  code,
  called,
}: {
  day: ProposedDay;
  code: (name: string) => string;
  called: (id: string) => string;
}) {
  const { weakest, chance } = day.readiness;
  return (
    <li>
      <strong>{dayWords(day.on, today())}</strong>
      <span>
        {day.crosses
          .map(({ cross, queens }) => say('season.cross-queens', { code: code(cross), n: queens }))
          .join(', ')}
      </span>
      <span>{say('season.sure', { seasons: timesOfTwenty(chance) })}</span>
      {weakest === null ? null : (
        <span className="note">
          {say(`season.weakest-${weakest.side}`, {
            mother: called(weakest.mother),
            times: timesOfTwenty(weakest.chance),
          })}
        </span>
      )}
    </li>
  );
}

/** Whose a bar or combs are: the crosses they serve, shared ones marked as such. */
function usesWords(uses: readonly ProposedUse[], code: (name: string) => string): string {
  const codes = [...new Set(uses.map(({ cross }) => code(cross)))];
  return codes.length > 1
    ? say('season.shared-by', { crosses: listWords(codes) })
    : say('season.for', { cross: codes[0] ?? '' });
}

function Raising({
  proposal,
  code,
  called,
}: {
  proposal: SeasonProposal;
  code: (name: string) => string;
  called: (id: string) => string;
}) {
  return (
    <div className="two-columns raising-planned">
      <div>
        <h3>{say('season.combs-to-hang')}</h3>
        <ul className="plain">
          {proposal.combs.map(({ mother, day, combs, uses }) => (
            <li key={`${mother} ${day}`}>
              <strong>{dayWords(day, today())}</strong> {say('task.combs', { n: combs })} {called(mother)}{' '}
              <span className="note">{usesWords(uses, code)}</span>
            </li>
          ))}
        </ul>
      </div>
      <div>
        <h3>{say('season.bars-to-graft')}</h3>
        <ul className="plain">
          {proposal.bars.map(({ dam, day, larvae, uses }) => (
            <li key={`${dam} ${day}`}>
              <strong>{dayWords(day, today())}</strong> {say('task.larvae', { n: larvae })} {called(dam)}{' '}
              <span className="note">{usesWords(uses, code)}</span>
            </li>
          ))}
        </ul>
      </div>
    </div>
  );
}

/** A proposed season: its days, what is to be raised, how sure and how good it is; taken with one press. */
export function ProposalShown({ proposal, clash, wish, page, onDone }: ShownProps) {
  const { run, problems, busy } = useDo();
  const code = codeOf(page);
  const called = (id: string) => page.names[id] ?? id;
  const take = async () => {
    const did = await run(takeSeasonPlan, planToTake(proposal, wish) as Parameters<typeof takeSeasonPlan.run>[0]);
    if ('problems' in did) return;
    tell(say('season.taken', { days: proposal.days.length }));
    onDone();
  };
  const { queens, wanted, good, visits, days } = proposal;
  return (
    <div className="sheet stack tight proposal" role="region" aria-label={say('season.proposal')}>
      <h2>{say('season.proposed', { queens, wanted, days: days.length })}</h2>
      <HowGood proposal={proposal} clash={clash} wish={wish} />
      {days.length === 0 ? null : (
        <>
          <ul className="proposed-days">
            {days.map((day) => (
              <DayRow key={day.on} day={day} code={code} called={called} />
            ))}
          </ul>
          <p>{say('season.good', { ready: figure(good.ready, 0), laying: figure(good.laying, 0), visits })}</p>
          <Raising proposal={proposal} code={code} called={called} />
        </>
      )}
      <Problems problems={problems} title={say('season.not-taken')} />
      <div className="cluster">
        {days.length === 0 ? null : (
          <button
            type="button"
            className="button main"
            aria-disabled={busy}
            onClick={() => void (busy ? undefined : take())}
          >
            {say('season.take')}
          </button>
        )}
        <button type="button" className="button" onClick={onDone}>
          {say('season.leave')}
        </button>
      </div>
    </div>
  );
}
