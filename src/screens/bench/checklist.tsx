import { useState } from 'react';
import { say, type WordId } from '#words/say.ts';

export const setOutItems = ['tips', 'saline', 'capillaries', 'gas', 'drones', 'order', 'sound'] as const;
export const putAwayItems = ['flags', 'tubes', 'home', 'tips', 'copy'] as const;

type ListProps = {
  title: string;
  prefix: 'bench.set-out' | 'bench.put-away';
  items: readonly string[];
  ticked: readonly string[];
  onTick: (item: string) => void;
};

/** A short list, read and done at a pause in the work; an item once ticked stays ticked. */
export function Checklist({ title, prefix, items, ticked: known, onTick }: ListProps) {
  const [now, setNow] = useState<readonly string[]>([]);
  const ticked = [...known, ...now];
  const tick = (item: string) => {
    setNow([...now, item]);
    onTick(item);
  };
  return (
    <fieldset className="checklist">
      <legend>{title}</legend>
      <ul>
        {items.map((item) => (
          <li key={item}>
            <label className="tick">
              <input
                type="checkbox"
                checked={ticked.includes(item)}
                disabled={ticked.includes(item)}
                onChange={() => tick(item)}
              />
              {say(`${prefix}.${item}` as WordId)}
            </label>
          </li>
        ))}
      </ul>
      <p className="note">
        {say('bench.checked', { n: items.filter((item) => ticked.includes(item)).length, all: items.length })}
      </p>
    </fieldset>
  );
}
