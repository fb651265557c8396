import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { Button, ComboBox, FieldError, Input, Label, ListBox, ListBoxItem, Popover, Text } from 'react-aria-components';
import { nearness } from '#domain/finding/nearness.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { type ChoosableQueens, chooseQueens } from '#questions/stock/choose-queens.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useProblemAt } from './form.tsx';
import { calledOf, LivingState } from './identity-band.tsx';
import { QueenMark } from './queen-mark.tsx';

/** One record a person may choose: its code or name, and what tells it from others. */
export type Choosable = { id: string; code: string; beside?: string; queen?: QueenFace };

type ChooseProps = {
  label: string;
  items: readonly Choosable[];
  value: string | null;
  onChange: (id: string | null) => void;
  at?: string | undefined;
  hint?: string;
  needed?: boolean;
  /** One of several is chosen here: the list opens by typing, and the box is ready for the next one. */
  several?: boolean;
};

const MOST_SHOWN = 60;

function matching(items: readonly Choosable[], typed: string): Choosable[] {
  if (typed.trim() === '') return items.slice(0, MOST_SHOWN);
  return items
    .map((item) => ({ item, near: nearness(typed, `${item.code}`) || nearness(typed, item.beside ?? '') / 2 }))
    .filter(({ near }) => near > 0)
    .sort((a, b) => b.near - a.near)
    .slice(0, MOST_SHOWN)
    .map(({ item }) => item);
}

function ChoosableLine({ code, beside, queen }: Choosable) {
  return (
    <span className="spread">
      <span className="cluster">
        {queen === undefined ? null : <QueenMark year={queen.year} mark={queen.mark} />}
        <span className="code">{code}</span>
      </span>
      <span className="note">
        {beside ?? ''} {queen === undefined || queen.living === 'alive' ? null : <LivingState living={queen.living} />}
      </span>
    </span>
  );
}

/**
 * A box that chooses one after another: a new, empty one takes its place after each choice and keeps the focus. (A box that is
 * emptied while it has the focus would open its list again.)
 */
function OneAfterAnother(props: ChooseProps) {
  const [chosen, setChosen] = useState(0);
  const box = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    if (chosen > 0) box.current?.querySelector('input')?.focus();
  }, [chosen]);
  return (
    <span ref={box} className="choose-next">
      <ChooseOne
        {...props}
        key={chosen}
        onChange={(id) => {
          if (id === null) return;
          props.onChange(id);
          setChosen(chosen + 1);
        }}
      />
    </span>
  );
}

/** Chooses one record by typing some of its code; slips are forgiven. Never a typed id: only what is in the list. */
export const ChooseRecord = (props: ChooseProps) =>
  props.several ? <OneAfterAnother {...props} /> : <ChooseOne {...props} />;

function ChooseOne({ label, items, value, onChange, at, hint, needed, several = false }: ChooseProps) {
  const chosen = items.find(({ id }) => id === value);
  const [typed, setTyped] = useState<string | null>(null);
  const shown = typed ?? chosen?.code ?? '';
  const found = useMemo(() => matching(items, typed ?? ''), [items, typed]);
  const problem = useProblemAt(at);
  return (
    <ComboBox
      className="choose"
      items={found}
      inputValue={shown}
      onInputChange={setTyped}
      selectedKey={value}
      onSelectionChange={(key) => {
        // Also told while somebody is typing on; a choice is taken back only by emptying the box and leaving it.
        if (key === null) return;
        setTyped(null);
        onChange(String(key));
      }}
      onBlur={() => {
        if (typed?.trim() === '') onChange(null);
        setTyped(null);
      }}
      menuTrigger={several ? 'input' : 'focus'}
      allowsEmptyCollection
      isInvalid={problem !== undefined}
      isRequired={needed ?? false}
      validationBehavior="aria"
    >
      <Label>
        {label}
        {needed ? <span className="soft"> {say('form.needed')}</span> : null}
      </Label>
      <div className="group-of">
        <Input />
        <Button className="open-list" aria-label={say('choose.open', { field: label })}>
          ▾
        </Button>
      </div>
      {hint === undefined ? null : (
        <Text slot="description" className="note">
          {hint}
        </Text>
      )}
      <FieldError className="problem">{problem}</FieldError>
      <Popover className="popover">
        <ListBox<Choosable> className="list" renderEmptyState={() => <p className="note pad">{say('find.nothing')}</p>}>
          {(item) => (
            <ListBoxItem id={item.id} textValue={item.code} className="item">
              <ChoosableLine {...item} />
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}

const choosable = (queen: QueenFace): Choosable => ({
  id: queen.id,
  code: calledOf(queen),
  ...(queen.line === null ? {} : { beside: queen.line }),
  queen,
});

/** Queens to choose from, as items for {@link ChooseRecord}; living ones first. */
export function useChoosableQueens(which: ChoosableQueens = 'living'): Choosable[] {
  const { data } = useAsk(chooseQueens, { which, today: today() });
  return useMemo(() => (data?.queens ?? []).map(choosable), [data]);
}

type ChooseQueenProps = Omit<ChooseProps, 'items'> & { which?: ChoosableQueens };

/** Chooses a queen by code, with her mark and year beside it. */
export function ChooseQueen({ which = 'living', ...rest }: ChooseQueenProps) {
  return <ChooseRecord {...rest} items={useChoosableQueens(which)} />;
}

type ManyProps = {
  label: string;
  values: readonly string[];
  onChange: (ids: string[]) => void;
  which?: ChoosableQueens;
  hint?: string;
  at?: string;
};

/** Chooses several queens: those chosen stand above the box, each with a button that takes her out again. */
export function ChooseQueens({ label, values, onChange, which = 'living', hint, at }: ManyProps) {
  const items = useChoosableQueens(which);
  const list = useId();
  const left = useMemo(() => items.filter(({ id }) => !values.includes(id)), [items, values]);
  const chosen = values.flatMap((id) => items.find((item) => item.id === id) ?? []);
  return (
    <div className="stack tight">
      <ChooseRecord
        several
        label={label}
        items={left}
        value={null}
        onChange={(id) => id !== null && onChange([...values, id])}
        {...(hint === undefined ? {} : { hint })}
        at={at}
      />
      <ul className="chosen-many" id={list} aria-label={say('choose.chosen', { field: label })}>
        {chosen.map((item) => (
          <li key={item.id}>
            <ChoosableLine {...item} />
            <button
              type="button"
              className="button quiet"
              aria-label={say('choose.take-out', { code: item.code })}
              onClick={() => onChange(values.filter((id) => id !== item.id))}
            >
              ✕
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}
