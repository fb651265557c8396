import type { Sign } from '#domain/insemination/bench-board.ts';

/** A tone: hertz at its start and end, seconds from now, seconds long, how rough. */
type Tone = { from: number; to?: number; at: number; long: number; shape?: OscillatorType };

const pair = (first: number, second: number): Tone[] => [
  { from: first, at: 0, long: 0.11 },
  { from: second, at: 0.15, long: 0.11 },
];

/** Ten seconds of a rough repeating tone, then silence with the block still on the screen. */
const rough: Tone[] = Array.from({ length: 20 }, (_, i) => ({ from: 140, at: i * 0.5, long: 0.3, shape: 'sawtooth' }));

const tones: Readonly<Partial<Record<Sign, readonly Tone[]>>> = {
  accepted: [
    { from: 196, at: 0, long: 0.11 },
    { from: 196, at: 0.15, long: 0.11 },
  ],
  flagged: [{ from: 520, to: 180, at: 0, long: 0.07, shape: 'triangle' }],
  'stepped-back': pair(262, 175),
  mismatch: rough,
  rising: [{ from: 220, to: 440, at: 0, long: 0.5 }],
  offered: [{ from: 440, at: 0, long: 0.25 }],
  'tube-runs-short': pair(330, 330).concat({ from: 247, at: 0.3, long: 0.25 }),
  'next-tube': pair(196, 262),
  'two-cages': pair(262, 262),
  'nothing-waiting': [{ from: 165, at: 0, long: 0.2 }],
};

let context: AudioContext | null = null;
let playing: OscillatorNode[] = [];

const MUTED = 'combwright.bench.muted';
const VOLUME = 'combwright.bench.volume';
export const isMuted = (): boolean => localStorage.getItem(MUTED) === 'yes';
export const mute = (muted: boolean): void => localStorage.setItem(MUTED, muted ? 'yes' : 'no');
const volume = (): number => Math.min(1, Math.max(0, Number(localStorage.getItem(VOLUME) ?? 0.5)));

/** Stops whatever sounds. */
export function hush(): void {
  for (const tone of playing) tone.stop();
  playing = [];
}

/** Gives a sign its sound, unless muted. Every sign has its shape on the board too. */
export function sound(sign: Sign): void {
  const notes = tones[sign];
  if (notes === undefined || isMuted() || typeof AudioContext === 'undefined') return;
  context ??= new AudioContext();
  const { currentTime, destination } = context;
  hush();
  for (const { from, to, at, long, shape = 'sine' } of notes) {
    const tone = new OscillatorNode(context, { type: shape, frequency: from });
    const gain = new GainNode(context, { gain: 0 });
    const start = currentTime + at;
    if (to !== undefined) tone.frequency.linearRampToValueAtTime(to, start + long);
    gain.gain.setValueAtTime(0, start);
    gain.gain.linearRampToValueAtTime(volume() * 0.4, start + 0.01);
    gain.gain.linearRampToValueAtTime(0, start + long);
    tone.connect(gain).connect(destination);
    tone.start(start);
    tone.stop(start + long);
    playing.push(tone);
  }
}
