import { exceptionKinds, notDoneReasons } from '#domain/insemination/exception.ts';
import { say, sayAny } from '#words/say.ts';
import type { Send, Untimed } from './board-keys.ts';
import { BoardMenu, KeysPanel, PedalPanel, ViewingPanel } from './menu.tsx';
import {
  AmountPanel,
  ChoiceList,
  choicesOf,
  FillPanel,
  furtherExceptions,
  LabelPanel,
  MarkPanel,
  type Panel,
  PanelBox,
} from './panels.tsx';
import type { SessionState } from './session.ts';

/** Collect and give: the open tube is the tip itself. */
const isTip = ({ board: { facts } }: SessionState): boolean =>
  facts.rack.some(({ tube, collectFrom }) => tube === facts.tube && collectFrom !== null);

/** The panel that lies over the board. */
export function PanelOf({
  panel,
  state,
  send,
  present,
  close,
  act,
}: {
  panel: Panel;
  state: SessionState;
  send: Send;
  present: (text: string) => void;
  close: () => void;
  act: (what: string) => void;
}) {
  const done = (event: Untimed) => {
    send(event);
    close();
  };
  switch (panel) {
    case 'exceptions':
      return (
        <PanelBox title={say('bench.panel.exceptions')} onClose={close}>
          <ChoiceList
            choices={choicesOf('exceptions').map((words, i) => ({
              words,
              onChoose: () => done({ kind: 'exception', exception: furtherExceptions[i] ?? 'flagged' }),
            }))}
          />
          <p className="board-note">{say('bench.panel.exceptions-keyed')}</p>
          <ul className="board-choices two">
            {exceptionKinds.slice(0, 9).map((exception) => (
              <li key={exception}>
                <button type="button" className="board-button" onClick={() => done({ kind: 'exception', exception })}>
                  {sayAny(`exception.${exception}`)}
                </button>
              </li>
            ))}
          </ul>
        </PanelBox>
      );
    case 'not-done':
      return (
        <PanelBox title={say('bench.panel.not-done')} onClose={close}>
          <ChoiceList
            choices={choicesOf('not-done').map((words, i) => ({
              words,
              onChoose: () => done({ kind: 'not-done', reason: notDoneReasons[i] ?? 'other' }),
            }))}
          />
        </PanelBox>
      );
    case 'label':
      return <LabelPanel state={state} onLabel={present} onClose={close} />;
    case 'mark':
      return <MarkPanel onTake={(coded) => done({ kind: 'coded', ...coded })} onClose={close} />;
    case 'fill':
      return (
        <FillPanel hasTip={isTip(state)} onTake={(filled) => done({ kind: 'filled', ...filled })} onClose={close} />
      );
    case 'gas':
      return (
        <AmountPanel
          title={say('bench.panel.gas')}
          label={say('bench.panel.gas-minutes')}
          unit={say('bench.minutes')}
          usual="2"
          most={120}
          act={say('bench.panel.gas-act')}
          onTake={(minutes) => done({ kind: 'co2', minutes })}
          onClose={close}
        />
      );
    case 'keys':
      return <KeysPanel onClose={close} />;
    case 'pedals':
      return <PedalPanel onClose={close} />;
    case 'viewing':
      return <ViewingPanel onClose={close} />;
    case 'menu':
      return <BoardMenu act={act} onClose={close} />;
  }
}
