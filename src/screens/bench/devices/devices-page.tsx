import '../../style/devices.css';
import { useState } from 'react';
import { say } from '#words/say.ts';
import { type DeviceLetIn, type NetworkState, useNetwork } from '../../link/pairing.ts';
import { RefusedByServer } from '../../link/server.ts';
import { BookTable, type Column } from '../../parts/book-table.tsx';
import { SelectField } from '../../parts/form.tsx';
import { WhatThisPageCanDo } from './can-do.tsx';
import { QrDrawing } from './qr-drawing.tsx';

type Change = ReturnType<typeof useNetwork>['change'];

const two = (n: number) => String(n).padStart(2, '0');
const timeOf = (milliseconds: number) => {
  const at = new Date(milliseconds);
  return `${two(at.getHours())}:${two(at.getMinutes())}`;
};
const dayAndTime = (milliseconds: number) => {
  const at = new Date(milliseconds);
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${timeOf(milliseconds)}`;
};

const columns = (change: Change): readonly Column<DeviceLetIn>[] => [
  { key: 'name', label: say('bench.devices.name'), lead: true, cell: ({ name }) => name },
  { key: 'paired', label: say('bench.devices.paired'), cell: ({ paired }) => dayAndTime(paired) },
  {
    key: 'seen',
    label: say('bench.devices.seen'),
    cell: ({ seen }) => (seen === null ? say('bench.devices.never') : dayAndTime(seen)),
  },
  { key: 'until', label: say('bench.devices.until'), cell: ({ until }) => dayAndTime(until) },
  {
    key: 'away',
    label: say('bench.devices.end'),
    cell: ({ id, name }) => (
      <button
        type="button"
        className="button"
        aria-label={say('bench.devices.send-away-named', { name })}
        onClick={() => void change('revoke', { id })}
      >
        {say('bench.devices.send-away')}
      </button>
    ),
  },
];

const spans = ['1', '14', '120'] as const;
type Span = (typeof spans)[number];

/** One code at a time: it lets one device in. */
function LetIn({ state, change }: { state: NetworkState; change: Change }) {
  const [days, setDays] = useState<Span>('14');
  const { code, addresses } = state;
  const [best] = addresses;
  if (best === undefined) return <p className="note">{say('bench.devices.no-network')}</p>;
  return (
    <section className="stack tight">
      <h2>{say('bench.devices.let-in')}</h2>
      <div className="let-in">
        <div className="stack tight">
          <SelectField
            label={say('bench.devices.for')}
            value={days}
            onChange={setDays}
            choices={spans.map((value) => ({ value, words: say(`bench.devices.for-${value}`) }))}
          />
          <button type="button" className="button main" onClick={() => void change('code', { days: Number(days) })}>
            {say(code === null ? 'bench.devices.new-code' : 'bench.devices.another-code')}
          </button>
          {code === null ? null : (
            <ol>
              <li>{say('bench.devices.step-scan')}</li>
              <li>
                {say('bench.devices.step-type')}{' '}
                {addresses.map((address) => (
                  <strong key={address} className="code block">
                    {address}/pair
                  </strong>
                ))}
              </li>
              <li>
                {say('bench.devices.step-code')} <strong className="code pair-code">{code.code}</strong>
              </li>
            </ol>
          )}
          {code === null ? null : <p className="note">{say('bench.devices.code-until', { at: timeOf(code.until) })}</p>}
        </div>
        {code === null ? null : (
          <QrDrawing payload={`${best}/pair#${code.code}`} label={say('bench.devices.qr', { address: best })} />
        )}
      </div>
    </section>
  );
}

/** Lets a tablet at the bench use the book on this machine: opened on request, by a code, listed, sent away, ending by itself. */
export function DevicesPage() {
  const { query, change } = useNetwork();
  const state = query.data;
  if (state === undefined) {
    const isDevice = query.error instanceof RefusedByServer;
    return (
      <section className="stack">
        <h1>{say('bench.devices')}</h1>
        <p role={isDevice ? 'alert' : 'status'}>{say(isDevice ? 'bench.devices.only-there' : 'edge.looking')}</p>
        {isDevice ? <WhatThisPageCanDo /> : null}
      </section>
    );
  }
  return (
    <section className="stack">
      <h1>{say('bench.devices')}</h1>
      <p>{say('bench.devices.what')}</p>
      <div className="caution">
        <p>{say('bench.devices.caution')}</p>
      </div>
      {state.openUntil === null ? (
        <p className="cluster">
          <span>○ {say('bench.devices.closed')}</span>
          <button type="button" className="button main" onClick={() => void change('open')}>
            {say('bench.devices.open')}
          </button>
        </p>
      ) : (
        <p className="cluster">
          <span>● {say('bench.devices.open-until', { at: dayAndTime(state.openUntil) })}</span>
          <button type="button" className="button" onClick={() => void change('close')}>
            {say('bench.devices.close')}
          </button>
        </p>
      )}
      {state.openUntil === null ? null : <LetIn state={state} change={change} />}
      <section className="stack tight">
        <h2>{say('bench.devices.list')}</h2>
        {state.devices.length === 0 ? (
          <p className="soft">{say('bench.devices.none')}</p>
        ) : (
          <BookTable
            label={say('bench.devices.list')}
            rows={state.devices}
            columns={columns(change)}
            rowKey={({ id }) => id}
          />
        )}
      </section>
    </section>
  );
}
