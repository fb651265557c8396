import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import type { Bite } from '#domain/rearing/chances/bites.ts';
import type { MotherToRaise, QueensToRaise, RestsOn } from '#domain/rearing/chances/raising-chances.ts';
import { lastDays } from '#domain/rearing/last-days.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import type { Countback } from '#questions/rearing/countback.ts';
import type { ToRaise } from '#questions/rearing/lanes.ts';
import { type RaisingOutlook, raisingChances } from '#questions/rearing/raising-chances.ts';
import type { Day } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { figure } from '#words/queen-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { DotQuantiles } from '../parts/dot-quantiles.tsx';
import { ChoiceField } from '../parts/form.tsx';
import { LossesStairs } from './losses-stairs.tsx';
import { profileWords } from './profile-words.ts';
import { listWords, timesOfTwenty } from './season/season-words.ts';

/** How sure a breeder can ask to be. */
const certainties = ['0.8', '0.9', '0.95', '0.99'] as const;
type Certainty = (typeof certainties)[number];
const certaintyWords = (sure: Certainty): string => sayAny(`chances.sure-${sure}`);

/** The loss that costs most, in a sentence. */
function WhatBites({ bites, of }: { bites: readonly Bite[]; of: 'larvae' | 'cells' }) {
  const [worst, next] = bites;
  if (worst === undefined) return null;
  return (
    <p>
      {say('chances.bites', {
        loss: sayAny(`bite.${worst.figure}`),
        saves: say(of === 'larvae' ? 'chances.fewer-larvae' : 'chances.fewer-cells', { n: worst.saves }),
      })}{' '}
      {next === undefined ? null : (
        <span className="soft">{say('chances.then-bites', { loss: sayAny(`bite.${next.figure}`) })}</span>
      )}
    </p>
  );
}

/** The lowest and highest of the middle sixteen of twenty. */
const spread = (dots: readonly number[]) => ({ low: dots[2] ?? 0, high: dots[17] ?? 0 });

/** One side if what is late had been done as planned. */
type IfDone = { chance: number; dots: number[] };

/** What can no longer be begun for the day: the last day it could, and whether what was planned is ticked as done. */
type Over = { last: Day; isTicked: boolean };

/** Nothing is raised or planned, and it is too late to begin. */
const isNothingComing = (from: RestsOn, over: Over | null): boolean =>
  from === 'least' && over !== null && !over.isTicked;

type OutcomeProps = {
  isComing: boolean;
  now: IfDone;
  /** `null` where nothing is late. */
  ifDone: IfDone | null;
  needed: number;
  words: (amount: number) => string;
  /** What they rest on, and the middle of the dots in words. */
  from: RestsOn;
  mostly: (dots: readonly number[], from: RestsOn) => string;
};

/** Twenty equally likely seasons as it stands; where something is late and that makes a difference, also those if it was done as planned. */
function Outcome({ isComing, now, ifDone, needed, words, from, mostly }: OutcomeProps) {
  const nothing = now.dots.every((amount) => amount === 0);
  const late = ifDone?.dots.some((amount, i) => amount !== now.dots[i]) === true ? ifDone : null;
  if (!isComing) return <p className="problem">{say('chances.nothing-coming')}</p>;
  return (
    <>
      {nothing ? (
        <p className="problem">
          {say(late === null ? 'season.none-in-time' : 'chances.none-if-begun-today', { needed: words(needed) })}
        </p>
      ) : (
        <>
          <DotQuantiles dots={now.dots} needed={needed} words={words} />
          <p>
            {late !== null ? <strong>{say('chances.if-begun-today')} </strong> : null}
            {mostly(now.dots, late === null ? from : 'least')}
          </p>
        </>
      )}
      {late === null ? null : (
        <>
          <p>
            <strong>{say('chances.if-done')}</strong> {mostly(late.dots, 'least')}
          </p>
          <DotQuantiles dots={late.dots} needed={needed} words={words} />
        </>
      )}
    </>
  );
}

type QueensProps = {
  queens: QueensToRaise;
  ifDone: IfDone | null;
  wanted: number;
  sure: string;
  over: Over | null;
  counted: Countback['counted'];
};

function Queens({ queens, ifDone, wanted, sure, over, counted }: QueensProps) {
  const { larvae, from, bites, stairs, others } = queens;
  return (
    <section className="stack tight" aria-labelledby="queens-to-raise">
      <h3 id="queens-to-raise">{say('chances.queens')}</h3>
      {larvae === null ? (
        <p className="problem">{say('stairs.none')}</p>
      ) : (
        <p>
          <strong className="lead">{say(over === null ? 'stairs.graft' : 'chances.takes-larvae', { larvae })}</strong>{' '}
          {say('chances.enough-for', { queens: wanted, sure })}{' '}
          {over === null ? null : say('chances.graft-over', { day: dayWords(over.last, today()) })}
        </p>
      )}
      {larvae === null && from === 'least' ? null : (
        <>
          <Outcome
            isComing={!isNothingComing(queens.from, over)}
            now={queens}
            ifDone={ifDone}
            needed={wanted}
            words={(n) => say('rearing.queens', { n: Math.round(n) })}
            from={from}
            mostly={(dots, of) => say(`chances.ready-${of}`, spread(dots))}
          />
          {others === 0 ? null : <p className="note">{say('chances.others', { n: others })}</p>}
          <LossesStairs planned={stairs} counted={counted} />
        </>
      )}
      <WhatBites bites={bites} of="larvae" />
    </section>
  );
}

const stages = ['combs', 'laidCells', 'emerged', 'mature', 'handled'] as const;

type MotherProps = {
  mother: MotherToRaise;
  ifDone: IfDone | null;
  alone: boolean;
  sure: string;
  dose: number;
  over: Over | null;
};

function Mother({ mother, ifDone, alone, sure, dose, over }: MotherProps) {
  const { toRaise, from, microlitres, name } = mother;
  const mostly = (dots: readonly number[], of: RestsOn) => {
    const { low, high } = spread(dots);
    const doses = { low: Math.floor(low / dose), high: Math.floor(high / dose), dose: figure(dose, 1) };
    const amounts = { low: figure(low, 0), high: figure(high, 0) };
    return `${say(`chances.semen-${of}`, amounts)} ${say('chances.doses', doses)}`;
  };
  return (
    <div className="stack tight">
      <p>
        {alone ? null : <strong>{name}: </strong>}
        <strong className="lead">
          {toRaise.combs === null
            ? say('chances.no-combs')
            : say(over === null ? 'chances.combs' : 'chances.takes-combs', { n: toRaise.combs })}
        </strong>{' '}
        {toRaise.combs === null
          ? null
          : say('chances.enough-semen', { microlitres: figure(microlitres, 1), who: name, sure })}{' '}
        {over === null ? null : say('chances.comb-over', { day: dayWords(over.last, today()) })}
      </p>
      <Outcome
        isComing={!isNothingComing(from, over)}
        now={mother}
        ifDone={ifDone}
        needed={microlitres}
        words={(ul) => `${figure(ul, 0)} µl`}
        from={from}
        mostly={mostly}
      />
      <table className="raise-stages">
        <caption>{say('chances.stages')}</caption>
        <tbody>
          {stages.map((stage) => (
            <tr key={stage}>
              <th scope="row">{sayAny(`chances.stage-${stage}`)}</th>
              <td className="number">{toRaise[stage] === null ? '–' : figure(toRaise[stage] ?? 0, 0)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** µl one queen is given, all her doses together. */
const doseOf = ({ cross }: Countback): number => cross.dose_ul * (cross.doses ?? 1) || 1;

/** What gives first, when one link is less sure than was asked for. */
function givesFirst({ queens, mothers, sure }: RaisingOutlook): string {
  const least = Math.min(queens.chance, ...mothers.map(({ chance }) => chance));
  if (least >= sure) return '';
  const mother = mothers.find(({ chance }) => chance === least);
  return say('chances.gives-first', {
    what: mother === undefined ? say('moved.queens-give') : say('moved.drones-give', { mother: mother.name }),
  });
}

/** What is late of the plan, and how the numbers below take it. */
function LateRaising({ countback: { raising } }: { countback: Countback }) {
  const { bars, combs } = raising.planned ?? { bars: [], combs: [] };
  const words = (side: 'queens' | 'drones') => (one: ToRaise) =>
    say(`season.overdue-${side}`, { mother: one.who, day: dayWords(one.due, today()) });
  const late = [
    ...combs.filter(({ late }) => late > 0).map(words('drones')),
    ...bars.filter(({ late }) => late > 0).map(words('queens')),
  ];
  return late.length === 0 ? null : <p className="problem">{say('season.overdue', { what: listWords(late) })}</p>;
}

/** What can no longer be begun for the day of a cross. */
function overOn({ tasks }: Countback, { inseminate, profile }: Wish): { queens: Over | null; drones: Over | null } {
  const { graft, laid } = lastDays(inseminate, profile);
  const isTicked = (...keys: string[]) => tasks.some(({ key, state }) => keys.includes(key) && state === 'done');
  const over = (last: Day, ticked: boolean) => (today() > last ? { last, isTicked: ticked } : null);
  return {
    queens: over(graft, isTicked('graft')),
    drones: over(laid, isTicked('drone-comb-in', 'drone-egg-check')),
  };
}

type ToldProps = { chances: RaisingOutlook; countback: Countback; wish: Wish; sure: string };

function Told({ chances, countback, wish, sure }: ToldProps) {
  const { queens, mothers, droneBites, chance, ifDone } = chances;
  const sureIfDone = ifDone?.chance ?? null;
  const over = overOn(countback, wish);
  const lost =
    isNothingComing(queens.from, over.queens) || mothers.some(({ from }) => isNothingComing(from, over.drones));
  const gives = givesFirst(chances);
  return (
    <>
      <LateRaising countback={countback} />
      {chance === null ? null : (
        <p className="lead">
          <strong>{say('chances.both', { times: lost ? 0 : timesOfTwenty(chance) })}</strong>{' '}
          {sureIfDone === null ? null : `${say('season.if-done', { seasons: timesOfTwenty(sureIfDone) })} `}
          {lost ? null : gives}{' '}
          {lost || gives !== '' ? <Link to="/rearing/season">{say('chances.see-mends')}</Link> : null}
        </p>
      )}
      <Queens
        queens={queens}
        ifDone={ifDone?.queens ?? null}
        over={over.queens}
        wanted={wish.queens}
        sure={sure}
        counted={countback.counted}
      />
      <section className="stack tight" aria-labelledby="drones-to-raise">
        <h3 id="drones-to-raise">{say('chances.drones')}</h3>
        {mothers.map((mother, i) => (
          <Mother
            key={mother.id}
            mother={mother}
            ifDone={ifDone?.mothers[i] ?? null}
            over={over.drones}
            alone={mothers.length === 1}
            sure={sure}
            dose={doseOf(countback)}
          />
        ))}
        <WhatBites bites={droneBites} of="cells" />
      </section>
      <p className="note">
        {say('chances.by-profile', { profile: profileWords(wish.profile.name) })}{' '}
        <Link to="/rearing/profiles">{say('chances.see-figures')}</Link>
      </p>
    </>
  );
}

/** How many larvae, combs and drones, so that the wanted queens are reached as surely as asked for; with the spread, and which loss costs most. */
export function ChancesPanel({ countback, wish }: { countback: Countback; wish: Wish }) {
  const [chosen, setChosen] = useState<Certainty>('0.9');
  const query = useAsk(raisingChances, { cross: countback.cross.id, today: today(), sure: Number(chosen) });
  const sure = certaintyWords(chosen);
  return (
    <section className="sheet stack chances" aria-labelledby="how-many-to-raise">
      <h2 id="how-many-to-raise">{say('chances.title')}</h2>
      <ChoiceField
        label={say('chances.sure')}
        value={chosen}
        onChange={setChosen}
        choices={certainties.map((value) => ({ value, words: certaintyWords(value) }))}
      />
      <Asked query={query}>
        {(chances) =>
          chances === null ? (
            <p>{say('stairs.none')}</p>
          ) : (
            <Told chances={chances} countback={countback} wish={wish} sure={sure} />
          )
        }
      </Asked>
    </section>
  );
}
