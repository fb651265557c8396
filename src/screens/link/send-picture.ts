import type { Day } from '#units/calendar-day.ts';
import { momentAt } from '#units/moment.ts';
import { postBytes } from './server.ts';
import { zone } from './this-device.ts';

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

/** A picture that was sent, as `attach-photo` takes it. */
export type SentPicture = { hash: string; taken_on: Day; width: number; height: number };

/** Shrinks a picture on this device and sends it; its date is kept. Throws when it is no picture this browser can read. */
export async function sendPicture(file: File): Promise<SentPicture> {
  const { bytes, width, height } = await shrink(file);
  const { hash } = await postBytes<{ hash: string }>('/api/upload', bytes);
  return { hash, taken_on: dayOfFile(file), width, height };
}
