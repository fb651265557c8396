import { say, type WordId } from '#words/say.ts';

const cautions: Readonly<Record<'stings' | 'moving', readonly [WordId, WordId]>> = {
  stings: ['yard.caution-stings', 'yard.caution-stings-what'],
  moving: ['yard.caution-moving', 'yard.caution-moving-what'],
};

/** The usual caution where the work is; it defers to doctors, local codes and the bee inspectorate. */
export function Caution({ of }: { of: keyof typeof cautions }) {
  const [title, what] = cautions[of];
  return (
    <div className="caution note-size">
      <p>{say(title)}</p>
      <p>{say(what)}</p>
    </div>
  );
}
