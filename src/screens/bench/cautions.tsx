import { say } from '#words/say.ts';

/** What can hurt somebody at the bench; local codes and licensed practice come first. */
export function BenchCautions() {
  return (
    <div className="caution">
      <p>{say('bench.caution.head')}</p>
      <ul>
        <li>{say('bench.caution.gas')}</li>
        <li>{say('bench.caution.cylinder')}</li>
        <li>{say('bench.caution.glass')}</li>
        <li>{say('bench.caution.stings')}</li>
        <li>{say('bench.caution.antibiotic')}</li>
      </ul>
      <p className="note">{say('bench.caution.local')}</p>
    </div>
  );
}
