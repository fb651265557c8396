import { say, type WordId } from '#words/say.ts';

const cautions: Readonly<Record<'stings' | 'moving' | 'wash' | 'frost', readonly [WordId, WordId]>> = {
  stings: ['yard.caution-stings', 'yard.caution-stings-what'],
  moving: ['yard.caution-moving', 'yard.caution-moving-what'],
  wash: ['score.caution-wash', 'score.caution-wash-what'],
  frost: ['score.caution-frost', 'score.caution-frost-what'],
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
