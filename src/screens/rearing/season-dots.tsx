import { say } from '#words/say.ts';

/** Twenty seasons, each a dot: filled where what was raised is enough. */
export function SeasonDots({ dots, needed }: { dots: readonly number[]; needed: number }) {
  const enough = dots.filter((each) => each >= needed).length;
  return (
    <p className="season-dots">
      <svg viewBox={`0 0 ${dots.length * 16} 16`} width={dots.length * 16} height="16" aria-hidden="true">
        {dots.map((each, i) => (
          <circle key={i} cx={8 + i * 16} cy="8" r="6" className={each >= needed ? 'full' : 'open'} />
        ))}
      </svg>
      <span>{say('many.of-twenty', { enough, of: dots.length })}</span>
    </p>
  );
}
