/** What the board needs to size its letters: how far away the eyes are and how large a millimetre is on this screen. */
export type Viewing = { centimetres: number; pixelsPerMillimetre: number };

/** Cap height as a part of the type size in our faces. */
const CAP = 0.7;
/** CSS pixels in a millimetre where nobody measured: 96 to the inch. */
const USUAL_PIXELS = 96 / 25.4;
const USUAL_CENTIMETRES = 70;

/** Cap heights in minutes of arc: queen, dose and tube; other board text; the least of any (spectacles are often off). */
export const ARC = { key: 40, text: 22, least: 16 } as const;

/**
 * Type size in CSS pixels so that capitals stand at an angle of so many minutes of arc.
 * Cap height = 2 · distance · tan(angle / 2); type size = cap height / 0.70.
 * @example typeSize(22, { centimetres: 70, pixelsPerMillimetre: 3.7795 }) // 24.2 px = 6.4 mm
 */
export function typeSize(minutes: number, { centimetres, pixelsPerMillimetre }: Viewing): number {
  const angle = (minutes / 60) * (Math.PI / 180);
  const millimetres = (2 * centimetres * 10 * Math.tan(angle / 2)) / CAP;
  return millimetres * pixelsPerMillimetre;
}

/** True when board text of the size the distance needs leaves room only for what matters most on a screen so high. */
export const isFar = (seen: Viewing, screenHeight: number): boolean => typeSize(ARC.text, seen) > screenHeight * 0.04;

const DISTANCE = 'combwright.bench.distance';
const SCREEN = 'combwright.pixels-per-millimetre';

const numberKept = (name: string, usual: number): number => {
  const kept = Number(localStorage.getItem(name) ?? Number.NaN);
  return Number.isFinite(kept) && kept > 0 ? kept : usual;
};

/** How this device is looked at, as it was stated once. */
export const viewing = (): Viewing => ({
  centimetres: numberKept(DISTANCE, USUAL_CENTIMETRES),
  pixelsPerMillimetre: numberKept(SCREEN, USUAL_PIXELS),
});

export function stateViewing({ centimetres, pixelsPerMillimetre }: Viewing): void {
  localStorage.setItem(DISTANCE, String(centimetres));
  localStorage.setItem(SCREEN, String(pixelsPerMillimetre));
}
