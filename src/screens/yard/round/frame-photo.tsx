import { useRef, useState } from 'react';
import { attachPhoto } from '#actions/stock/attach-photo.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { sendPicture } from '../../link/send-picture.ts';
import { OutOfReach } from '../../link/server.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

/** A picture of the frame in the hand, kept with its date on her leaf. */
export function FramePhoto({ queen }: { queen: RecordId }) {
  const { run } = useDo();
  const [busy, setBusy] = useState(false);
  const box = useRef<HTMLInputElement>(null);
  const add = async (file: File | undefined) => {
    if (file === undefined) return;
    setBusy(true);
    try {
      const did = await run(attachPhoto, { about_kind: 'queen', about: queen, ...(await sendPicture(file)) });
      tell('problems' in did ? sayRefusals(did.problems) : say('photo.kept'));
    } catch (error) {
      tell(error instanceof OutOfReach ? say('edge.out-of-reach') : say('problem.not-a-photo'));
    } finally {
      setBusy(false);
      if (box.current !== null) box.current.value = '';
    }
  };
  return (
    <label className="button round-button">
      {busy ? say('edge.looking') : say('round.photo')}
      <input
        ref={box}
        type="file"
        accept="image/jpeg,image/png,image/webp"
        capture="environment"
        className="visually-hidden"
        onChange={({ target }) => void add(target.files?.[0])}
      />
    </label>
  );
}
