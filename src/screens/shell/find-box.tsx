import { useNavigate } from '@tanstack/react-router';
import { useMemo, useRef, useState } from 'react';
import { ComboBox, Input, Label, ListBox, ListBoxItem, Popover } from 'react-aria-components';
import { type Found, find } from '#questions/edge/find.ts';
import { say, sayAny } from '#words/say.ts';
import { leafOf } from '../link/leaf.ts';
import { useAsk } from '../link/use-ask.ts';
import { useKeys } from './keys.ts';

function FoundLine({ found }: { found: Found }) {
  return (
    <span className="spread">
      <span>
        <span className="code">{found.code}</span> <span className="soft">{found.beside}</span>
      </span>
      <span className="note">{sayAny(`kind.${found.kind}`)}</span>
    </span>
  );
}

/** One box that finds anything: a code, a disc number, a former code, a yard, a tube, a person, a note. `/` goes there. */
export function FindBox() {
  const [words, setWords] = useState('');
  const box = useRef<HTMLInputElement>(null);
  const navigate = useNavigate();
  const { data } = useAsk(find, { words }, words.trim().length > 0);
  useKeys(useMemo(() => ({ '/': () => box.current?.focus() }), []));
  const found = words.trim() === '' ? [] : (data?.found ?? []);
  return (
    <ComboBox
      className="find"
      items={found.map((each) => ({ ...each, key: `${each.kind} ${each.id}` }))}
      inputValue={words}
      onInputChange={setWords}
      allowsEmptyCollection
      menuTrigger="input"
      onSelectionChange={(key) => {
        const chosen = found.find((each) => `${each.kind} ${each.id}` === key);
        if (chosen === undefined) return;
        setWords('');
        void navigate({ to: leafOf(chosen.kind, chosen.id) });
      }}
    >
      <Label className="visually-hidden">{say('find.label')}</Label>
      <Input ref={box} className="input" placeholder={say('find.placeholder')} />
      <Popover className="popover">
        <ListBox<Found & { key: string }>
          className="list"
          renderEmptyState={() => <p className="note pad">{words === '' ? say('find.start') : say('find.nothing')}</p>}
        >
          {(each) => (
            <ListBoxItem id={each.key} textValue={each.code} className="item">
              <FoundLine found={each} />
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}
