import { expect, test } from 'vitest';
import { photoForm } from './photo-form.ts';

const bytes = (...parts: (string | number[])[]) =>
  Uint8Array.from(parts.flatMap((part) => (typeof part === 'string' ? [...part].map((l) => l.charCodeAt(0)) : part)));

test('a picture is what its first bytes say (signatures of ISO/IEC 10918-1, ISO/IEC 15948, RFC 9649)', () => {
  expect(photoForm(bytes([0xff, 0xd8, 0xff, 0xe0], 'JFIF'))).toBe('image/jpeg');
  expect(photoForm(bytes([0x89], 'PNG\r\n', [0x1a], '\n'))).toBe('image/png');
  expect(photoForm(bytes('RIFF', [1, 2, 3, 4], 'WEBPVP8 '))).toBe('image/webp');
});

test('anything else is none, a drawing with a program in it first of all', () => {
  for (const text of [
    '<svg onload="x()">',
    '<?xml version="1.0"?><svg/>',
    'GIF89a',
    '',
    'RIFF....WAVE',
    '<img onerror>',
  ])
    expect(photoForm(bytes(text)), text).toBeNull();
});
