import { useRef, useState } from 'react';
import { attachPhoto } from '#actions/stock/attach-photo.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { sendPicture } from '../../link/send-picture.ts';
import { OutOfReach } from '../../link/server.ts';
import { useDo } from '../../link/use-do.ts';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

type PhotosProps = {
  about: RecordId;
  code: string;
  photos: readonly { id: string; hash: string; takenOn: Day | null }[];
};

/** Pictures of a queen, with a button that adds one: shrunk on the device, its date kept. */
export function Photos({ about, code, photos }: PhotosProps) {
  const { run, problems, busy } = useDo();
  const [unreadable, setUnreadable] = useState(false);
  const box = useRef<HTMLInputElement>(null);
  const add = async (file: File | undefined) => {
    if (file === undefined) return;
    setUnreadable(false);
    try {
      const did = await run(attachPhoto, { about_kind: 'queen', about, ...(await sendPicture(file)) });
      if (!('problems' in did)) tell(say('photo.kept'));
    } catch (error) {
      if (error instanceof OutOfReach) tell(say('edge.out-of-reach'));
      else setUnreadable(true);
    } finally {
      if (box.current !== null) box.current.value = '';
    }
  };
  return (
    <div className="stack tight">
      <ul className="photos">
        {photos.map(({ id, hash, takenOn }) => (
          <li key={id}>
            <a href={`/api/photo/${hash}`}>
              <img src={`/api/photo/${hash}`} alt={say('queen.photo-of', { code })} loading="lazy" />
            </a>
            {takenOn === null ? null : <span className="note">{shortDay(takenOn)}</span>}
          </li>
        ))}
      </ul>
      <label className="button">
        {busy ? say('edge.looking') : say('photo.add')}
        <input
          ref={box}
          type="file"
          accept="image/jpeg,image/png,image/webp"
          className="visually-hidden"
          onChange={({ target }) => void add(target.files?.[0])}
        />
      </label>
      {unreadable ? <p role="alert">{say('problem.not-a-photo')}</p> : null}
      <Problems problems={problems} title={say('form.not-kept')} />
    </div>
  );
}
