import { chooseOthers } from '#questions/stock/choose-others.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Choosable, ChooseRecord, useChoosableQueens } from '../parts/choose-record.tsx';
import { NumberField } from '../parts/form.tsx';
import type { TypedSource } from './cross-form.ts';

/** Everything that can give drones: living queens, sister groups, lines. Ids carry their kind. */
export function useDroneSources(): Choosable[] {
  const queens = useChoosableQueens('all');
  const others = useAsk(chooseOthers, {}).data;
  return [
    ...queens.map((queen) => ({ ...queen, id: `queen ${queen.id}` })),
    ...(others?.groups ?? []).map(({ id, code, beside }) => ({
      id: `sister_group ${id}`,
      code,
      beside: `${say('cross.a-group')} ${beside}`,
    })),
    ...(others?.lines ?? []).map(({ id, code }) => ({ id: `line ${id}`, code, beside: say('cross.a-line') })),
  ];
}

type SourceFieldProps = {
  source: TypedSource;
  index: number;
  items: readonly Choosable[];
  onChange: (source: TypedSource) => void;
  onTakeOut: (() => void) | undefined;
};

function SourceField({ source, index, items, onChange, onTakeOut }: SourceFieldProps) {
  return (
    <li className="source-field">
      <ChooseRecord
        label={say('cross.drone-mother', { n: index + 1 })}
        items={items}
        value={source.chosen}
        onChange={(chosen) => onChange({ ...source, chosen })}
        at={`drone_sources.${index}`}
      />
      <NumberField
        label={say('cross.share')}
        unit="%"
        value={source.percent}
        onChange={(percent) => onChange({ ...source, percent })}
        at={`drone_sources.${index}.share`}
      />
      {onTakeOut === undefined ? null : (
        <button type="button" className="button quiet" onClick={onTakeOut}>
          {say('cross.take-out')}
        </button>
      )}
    </li>
  );
}

type SidesProps = { sources: readonly TypedSource[]; onChange: (sources: TypedSource[]) => void };

/** The drone side: one row a drone mother, sister group or line, with its share of the semen. */
export function DroneSideFields({ sources, onChange }: SidesProps) {
  const items = useDroneSources();
  return (
    <div className="whole stack tight">
      <ul className="source-fields">
        {sources.map((source, index) => (
          <SourceField
            key={index}
            source={source}
            index={index}
            items={items}
            onChange={(changed) => onChange(sources.map((each, i) => (i === index ? changed : each)))}
            onTakeOut={sources.length === 1 ? undefined : () => onChange(sources.filter((_, i) => i !== index))}
          />
        ))}
      </ul>
      <p className="note">{say('cross.share-hint')}</p>
      <div>
        <button
          type="button"
          className="button"
          onClick={() => onChange([...sources, { chosen: null, percent: null }])}
        >
          {say('cross.one-more')}
        </button>
      </div>
    </div>
  );
}
