/** The forms of pictures that are kept. Never a drawing that can carry a program. */
export type PhotoForm = 'image/jpeg' | 'image/png' | 'image/webp';

const beginsWith = (bytes: Uint8Array, wanted: readonly number[], from = 0): boolean =>
  wanted.every((byte, i) => bytes[from + i] === byte);

const ascii = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));

/**
 * What a picture is by its first bytes, whatever its name says; `null` for anything else.
 * JPEG FF D8 FF (ISO/IEC 10918-1), PNG signature (ISO/IEC 15948 §5.2), WebP `RIFF….WEBP` (RFC 9649 §2.4).
 */
export function photoForm(bytes: Uint8Array): PhotoForm | null {
  if (beginsWith(bytes, [0xff, 0xd8, 0xff])) return 'image/jpeg';
  if (beginsWith(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'image/png';
  return beginsWith(bytes, ascii('RIFF')) && beginsWith(bytes, ascii('WEBP'), 8) ? 'image/webp' : null;
}
