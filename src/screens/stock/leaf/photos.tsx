import { useRef, useState } from 'react';
import { attachPhoto } from '#actions/stock/attach-photo.ts';
import type { Day } from '#units/calendar-day.ts';
import { momentAt } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { OutOfReach, postBytes } from '../../link/server.ts';
import { zone } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { Problems } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

/** Longest side of a kept picture, pixels. */
const LONGEST = 1_600;

type Shrunk = { bytes: Blob; width: number; height: number };

/** The picture shrunk on this device; its bytes as they are when it is small enough already. */
async function shrink(file: File): Promise<Shrunk> {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const [width, height] = [Math.round(picture.width * scale), Math.round(picture.height * scale)];
  if (scale === 1 && file.size < 1_000_000) return { bytes: file, width, height };
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  canvas.getContext('2d')?.drawImage(picture, 0, 0, width, height);
  const bytes = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.85));
  return { bytes: bytes ?? file, width, height };
}

/** The day a picture file was made, as this device knows it. */
const dayOfFile = (file: File): Day => momentAt(file.lastModified, zone()).slice(0, 10) as Day;

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
      const { bytes, width, height } = await shrink(file);
      const { hash } = await postBytes<{ hash: string }>('/api/upload', bytes);
      const taken_on = dayOfFile(file);
      const did = await run(attachPhoto, { about_kind: 'queen', about, hash, taken_on, width, height });
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
