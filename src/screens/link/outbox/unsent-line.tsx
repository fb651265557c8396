import '../../style/outbox.css';
import { Link } from '@tanstack/react-router';
import { say } from '#words/say.ts';
import { unsentFile, useOutbox } from './outbox.ts';

/** Saves the unsent acts as a file on this device. */
export function exportUnsent(): void {
  const address = URL.createObjectURL(unsentFile());
  const link = document.createElement('a');
  link.href = address;
  link.download = `unsent-acts-${new Date().toISOString().slice(0, 16).replace(':', '')}.json`;
  link.click();
  URL.revokeObjectURL(address);
}

/** How many acts this device still keeps for itself. It cannot be missed while there are any, and is not there otherwise. */
export function UnsentLine() {
  const { unsent, parked, reach, durable } = useOutbox();
  const isCutOff = reach === 'away' || reach === 'not-paired';
  if (unsent === 0 && parked === 0 && !isCutOff && durable) return null;
  const why = { away: say('outbox.away'), 'not-paired': say('outbox.not-paired') };
  return (
    <div className={unsent > 0 || isCutOff || !durable ? 'unsent stop' : 'unsent'} role="status">
      <strong>{say('outbox.unsent', { n: unsent })}</strong>
      <span>
        {isCutOff ? why[reach] : unsent > 0 ? say('outbox.sending') : ''}
        {parked > 0 ? ` ${say('outbox.parked', { n: parked })}` : ''}
        {durable ? '' : ` ${say('outbox.not-durable')}`}
      </span>
      {reach === 'not-paired' ? <Link to="/pair">{say('outbox.pair-again')}</Link> : null}
      {unsent + parked > 0 ? (
        <button type="button" onClick={exportUnsent}>
          {say('outbox.export')}
        </button>
      ) : null}
    </div>
  );
}
