import { say } from '#words/say.ts';

const FROM = 4;
const TO = 15;
const at = (day: number): number => 4 + ((Math.min(TO, Math.max(FROM, day)) - FROM) / (TO - FROM)) * 112;

/** A virgin's age on the bench day as a tick on a scale of 5 to 14 days (usable span, Cobey, Tarpy and Woyke 2013). */
export function AgeScale({ age }: { age: number | null }) {
  if (age === null) return <span className="note">{say('bench.age-unknown')}</span>;
  return (
    <span className="bench-age">
      <svg viewBox="0 0 120 20" width="120" height="20" aria-hidden="true">
        <path d={`M${at(5)} 14H${at(14)}`} stroke="currentColor" strokeWidth="2" />
        <path d={`M${at(5)} 10V18M${at(14)} 10V18`} stroke="currentColor" strokeWidth="1" />
        <path d={`M${at(age)} 2V18`} stroke="currentColor" strokeWidth={4} />
      </svg>
      <span className="figures">{say('bench.age', { age })}</span>
    </span>
  );
}
