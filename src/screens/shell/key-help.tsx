import { useMemo, useState } from 'react';
import { Button, Dialog, DialogTrigger, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { say, type WordId } from '#words/say.ts';
import { useKeys } from './keys.ts';
import { places } from './places.ts';

const rows: readonly (readonly [string, WordId])[] = [
  ['/', 'keys.find'],
  ['?', 'keys.help'],
  ['N', 'keys.new'],
  ['E', 'keys.edit'],
  ['P', 'keys.print'],
  ['Ctrl Z', 'keys.back'],
];

/** The list of keys, on `?` and behind a button. */
export function KeyHelp() {
  const [open, setOpen] = useState(false);
  useKeys(useMemo(() => ({ '?': () => setOpen(true) }), []));
  return (
    <DialogTrigger isOpen={open} onOpenChange={setOpen}>
      <Button className="button quiet">{say('keys.title')}</Button>
      <ModalOverlay className="overlay" isDismissable>
        <Modal className="modal">
          <Dialog className="stack">
            <Heading slot="title">{say('keys.title')}</Heading>
            <table className="book">
              <tbody>
                {rows.map(([key, words]) => (
                  <tr key={key}>
                    <th scope="row">
                      <kbd>{key}</kbd>
                    </th>
                    <td>{say(words)}</td>
                  </tr>
                ))}
                {places.map(({ key, words }) => (
                  <tr key={key}>
                    <th scope="row">
                      <kbd>G</kbd> <kbd>{key}</kbd>
                    </th>
                    <td>{say('keys.go', { place: say(words) })}</td>
                  </tr>
                ))}
              </tbody>
            </table>
            <p className="note">{say('keys.note')}</p>
            <Button slot="close" className="button">
              {say('edge.close')}
            </Button>
          </Dialog>
        </Modal>
      </ModalOverlay>
    </DialogTrigger>
  );
}
