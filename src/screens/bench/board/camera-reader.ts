import wasm from 'zxing-wasm/reader/zxing_reader.wasm?url';

/** Looks this often at the picture, milliseconds: a label carried past is seen at least twice. */
const LOOK = 180;
/** The same label again within this time is the same carrying past, milliseconds. */
const SAME = 2_500;

export type CameraProblem = 'not-here' | 'refused' | 'none';

/** Why this page gets no camera: over plain http a browser gives none. */
const problemOf = (error: unknown): CameraProblem =>
  error instanceof DOMException && error.name === 'NotAllowedError' ? 'refused' : 'none';

type Reading = { video: HTMLVideoElement; onRead: (text: string) => void };

async function looker() {
  const { prepareZXingModule, readBarcodes } = await import('zxing-wasm/reader');
  // The reader comes from this server, never from elsewhere: the bench has no network.
  await prepareZXingModule({ overrides: { locateFile: () => wasm }, fireImmediately: true });
  return async (picture: ImageData): Promise<string[]> =>
    (await readBarcodes(picture, { formats: ['QRCode'], tryHarder: true, maxNumberOfSymbols: 1 })).map(
      ({ text }) => text,
    );
}

function pictureOf(video: HTMLVideoElement, paper: OffscreenCanvas): ImageData | null {
  const { videoWidth: width, videoHeight: height } = video;
  const pen = paper.getContext('2d', { willReadFrequently: true });
  if (pen === null || width === 0) return null;
  paper.width = width;
  paper.height = height;
  pen.drawImage(video, 0, 0);
  return pen.getImageData(0, 0, width, height);
}

async function lookOn({ video, onRead }: Reading, isOver: () => boolean): Promise<void> {
  const look = await looker();
  const paper = new OffscreenCanvas(1, 1);
  let last = { text: '', at: Number.NEGATIVE_INFINITY };
  while (!isOver()) {
    const picture = pictureOf(video, paper);
    const [text] = picture === null ? [] : await look(picture);
    const now = performance.now();
    if (text !== undefined && !isOver()) {
      if (text !== last.text || now - last.at > SAME) onRead(text);
      last = { text, at: now };
    }
    await new Promise((resolve) => setTimeout(resolve, LOOK));
  }
}

/**
 * Reads labels with the camera of this device until it is stopped. A label that stays before the camera is read once; carried away for
 * 2.5 s and shown again, once more.
 * @returns how to stop it, or why there is no camera
 */
export async function readByCamera(reading: Reading): Promise<{ stop(): void } | { problem: CameraProblem }> {
  if (!window.isSecureContext || navigator.mediaDevices === undefined) return { problem: 'not-here' };
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 } },
    });
    let over = false;
    reading.video.srcObject = stream;
    await reading.video.play();
    void lookOn(reading, () => over);
    return {
      stop() {
        over = true;
        for (const track of stream.getTracks()) track.stop();
      },
    };
  } catch (error) {
    return { problem: problemOf(error) };
  }
}
