import { useState } from 'react';
import { impossibleTogether, type PairChoice, pairsOf, type WorthChoices } from '#domain/worth/choices.ts';
import { nothingShared, publishedPairOf, publishedPairs, weakened } from '#domain/worth/published-pairs.ts';
import { say, sayAny } from '#words/say.ts';
import { NumberField, SelectField } from '../../parts/form.tsx';
import { traitName } from './worth-words.ts';

type PairsProps = { choices: WorthChoices; onChoices: (choices: WorthChoices) => void };

const named = ({ first, second }: Pick<PairChoice, 'first' | 'second'>) => ({
  first: traitName(first),
  second: traitName(second),
});

const isSame = (a: PairChoice, b: PairChoice) => a.first === b.first && a.second === b.second;

/** A pair as the first published set has it, else nothing shared yet. */
function begun(first: string, second: string): PairChoice {
  for (const set of publishedPairs) {
    const found = publishedPairOf(set, first, second);
    if (found !== null) return { ...found, from: set.name };
  }
  return { ...nothingShared, first, second, from: 'own' };
}

type OnePair = { pair: PairChoice; put: (some: Partial<PairChoice>) => void; leaveOut: () => void };

/** The correlations of one pair of traits. */
function PairNumbers({ pair, put, leaveOut }: OnePair) {
  const names = named(pair);
  const known = publishedPairs.flatMap((set) => {
    const found = publishedPairOf(set, pair.first, pair.second);
    return found === null ? [] : [{ ...found, from: set.name }];
  });
  const froms = [...new Set([...known.map(({ from }) => from), 'own', pair.from])];
  const number = (key: 'worker' | 'queen' | 'workerQueen' | 'queenWorker' | 'residual') => (
    <NumberField
      label={say(`worth.pair.${key}`, names)}
      value={Number(pair[key].toPrecision(4))}
      onChange={(value) => put({ [key]: value ?? 0, from: 'own' })}
    />
  );
  return (
    <fieldset>
      <legend>{say('worth.pair', names)}</legend>
      <div className="fields">
        <SelectField
          label={say('worth.set')}
          value={pair.from}
          onChange={(from) => put(known.find((each) => each.from === from) ?? { from: 'own' })}
          choices={froms.map((value) => ({ value, words: sayAny(`worth.set.${value}`) }))}
        />
        {number('worker')}
        {number('queen')}
        {number('workerQueen')}
        {number('queenWorker')}
        {number('residual')}
      </div>
      <button type="button" className="button" onClick={leaveOut}>
        {say('worth.pair-leave', names)}
      </button>
    </fieldset>
  );
}

/** Pairs of chosen traits that are not listed yet, those something is published of first. */
function missing({ traits }: WorthChoices, listed: readonly PairChoice[]): PairChoice[] {
  const all = traits.flatMap(({ trait: first }, i) =>
    traits
      .slice(i + 1)
      .filter(
        ({ trait: second }) =>
          !listed.some((one) => [one.first, one.second].includes(first) && [one.first, one.second].includes(second)),
      )
      .map(({ trait: second }) => begun(first, second)),
  );
  return [...all.filter(({ from }) => from !== 'own'), ...all.filter(({ from }) => from === 'own')];
}

/** What traits share: pairs by name, every number editable; numbers that cannot be are named, with how much weaker they could be. */
export function ChoicesPairs({ choices, onChoices }: PairsProps) {
  const listed = pairsOf(choices);
  const open = missing(choices, listed);
  const [chosen, setChosen] = useState('');
  const keep = (pairs: readonly PairChoice[]) => onChoices({ ...choices, pairs });
  const others = (choices.pairs ?? []).filter((one) => !listed.includes(one));
  const keyOf = ({ first, second }: PairChoice) => `${first} ${second}`;
  const next = open.find((one) => keyOf(one) === chosen) ?? open[0];
  if (choices.traits.length < 2) return null;
  return (
    <section className="stack tight" aria-labelledby="worth-pairs">
      <h3 id="worth-pairs">{say('worth.pairs')}</h3>
      <p className="note">{say('worth.pairs-what')}</p>
      {listed.map((pair) => (
        <PairNumbers
          key={keyOf(pair)}
          pair={pair}
          put={(some) => keep([...others, ...listed.map((one) => (isSame(one, pair) ? { ...one, ...some } : one))])}
          leaveOut={() => keep([...others, ...listed.filter((one) => !isSame(one, pair))])}
        />
      ))}
      {next === undefined ? null : (
        <div className="stack tight">
          <SelectField
            label={say('worth.pair-which')}
            value={keyOf(next)}
            onChange={setChosen}
            choices={open.map((one) => ({
              value: keyOf(one),
              words: `${say('worth.pair', named(one))}${one.from === 'own' ? '' : `, ${sayAny(`worth.set.${one.from}`)}`}`,
            }))}
          />
          <div className="cluster">
            <button type="button" className="button" onClick={() => keep([...(choices.pairs ?? []), next])}>
              {say('worth.pair-add')}
            </button>
          </div>
        </div>
      )}
    </section>
  );
}

/** Says which correlations between traits cannot be, and offers those that can. */
export function PairsProblem({ choices, onChoices }: PairsProps) {
  const found = impossibleTogether(choices);
  if (found === null) return null;
  const names = found.alone.map((pair) => say('worth.pair', named(pair))).join(', ');
  const weaken = () =>
    onChoices({
      ...choices,
      pairs: weakened(pairsOf(choices), found.part).map((pair) => ({ ...pair, from: 'own' })),
    });
  return (
    <div className="stack tight" role="alert">
      <p className="doubtful">
        {names === '' ? say('worth.pairs-cannot') : say('worth.pairs-cannot-alone', { names })}{' '}
        {say('worth.pairs-could', { part: Math.round(found.part * 100) })}
      </p>
      <div className="cluster">
        <button type="button" className="button" onClick={weaken}>
          {say('worth.pairs-weaken')}
        </button>
      </div>
    </div>
  );
}
