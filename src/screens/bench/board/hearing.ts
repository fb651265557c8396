import { language, say } from '#words/say.ts';

/** What a spoken word asks of the board. Never a code of a queen or tube: those are read, not spoken. */
export type Wish =
  | { kind: 'accept' }
  | { kind: 'key'; key: string }
  | { kind: 'dead' }
  | { kind: 'dose'; microlitres: number };

/** Words as they are spoken in this language; several, divided by a bar, mean the same. */
const spoken = () => ({
  accept: say('bench.hear.next'),
  Backspace: say('bench.hear.back'),
  F: say('bench.hear.flag'),
  '1': say('bench.hear.leak'),
  R: say('bench.hear.repeat'),
  P: say('bench.hear.pause'),
  T: say('bench.hear.tip'),
  C: say('bench.hear.capillary'),
  dead: say('bench.hear.dead'),
});

const plain = (words: string) =>
  words
    .toLowerCase()
    .replaceAll(/[.,!?]+$/g, '')
    .trim();
const isOneOf = (said: string, words: string) => words.split('|').some((each) => plain(each) === said);

/**
 * What was said, when it is one of the ten words and nothing else; `null` for whatever else is spoken in the room.
 * @example askedBy('leak') // { kind: 'key', key: '1' }
 * @example askedBy('dose 8.5') // { kind: 'dose', microlitres: 8.5 }
 */
export function askedBy(words: string): Wish | null {
  const said = plain(words);
  const [first = '', number = '', ...more] = said.split(/\s+/);
  const microlitres = Number(number.replace(',', '.'));
  if (isOneOf(first, say('bench.hear.dose')) && more.length === 0 && microlitres > 0 && microlitres <= 20)
    return { kind: 'dose', microlitres };
  const meant = Object.entries(spoken()).find(([, each]) => isOneOf(said, each))?.[0];
  if (meant === undefined) return null;
  return meant === 'accept' || meant === 'dead' ? { kind: meant } : { kind: 'key', key: meant };
}

type Result = { isFinal: boolean; 0: { transcript: string; confidence: number } };
type Recognition = {
  lang: string;
  continuous: boolean;
  processLocally?: boolean;
  onresult: ((event: { resultIndex: number; results: ArrayLike<Result> }) => void) | null;
  onend: (() => void) | null;
  start(): void;
  abort(): void;
};
type Maker = {
  new (): Recognition;
  available?(asked: { langs: string[]; processLocally: true }): Promise<string>;
};

/** Less sure than this is not heard. */
const SURE = 0.6;

const maker = (): Maker | undefined => (window as { SpeechRecognition?: Maker }).SpeechRecognition;

/** Whether this device understands speech by itself. A recognition that would send the sound elsewhere is never used. */
export async function hearsByItself(): Promise<boolean> {
  const Made = maker();
  if (Made?.available === undefined || !('processLocally' in new Made())) return false;
  return (await Made.available({ langs: [language()], processLocally: true }).catch(() => '')) === 'available';
}

/** Listens for the ten words until it is stopped. */
export function listen(heard: (asked: Wish) => void): () => void {
  const Made = maker();
  if (Made === undefined) return () => {};
  const ear = new Made();
  let isOver = false;
  ear.lang = language();
  ear.continuous = true;
  ear.processLocally = true;
  ear.onresult = ({ resultIndex, results }) => {
    for (const result of Array.from(results).slice(resultIndex)) {
      const asked = result.isFinal && result[0].confidence >= SURE ? askedBy(result[0].transcript) : null;
      if (asked !== null) heard(asked);
    }
  };
  ear.onend = () => {
    if (!isOver) setTimeout(() => !isOver && ear.start(), 300);
  };
  ear.start();
  return () => {
    isOver = true;
    ear.abort();
  };
}
