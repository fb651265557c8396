import { say } from '#words/say.ts';

/** What this page can and cannot do by the way it came here: a browser gives no camera and no offline start over plain http. */
export function WhatThisPageCanDo() {
  if (window.isSecureContext) return <p className="note">{say('bench.can.secure')}</p>;
  return (
    <div className="caution">
      <p>
        <strong>{say('bench.can.plain')}</strong>
      </p>
      <ul>
        <li>{say('bench.can.keeps')}</li>
        <li>{say('bench.can.no-start')}</li>
        <li>{say('bench.can.no-camera')}</li>
        <li>{say('bench.can.open-wire')}</li>
      </ul>
    </div>
  );
}
