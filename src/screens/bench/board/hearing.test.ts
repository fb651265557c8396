import { expect, test } from 'vitest';
import { askedBy } from './hearing.ts';

test('the ten words of the bench are understood, alone and whatever their capitals', () => {
  expect(askedBy('Next')).toEqual({ kind: 'accept' });
  expect(askedBy('leak.')).toEqual({ kind: 'key', key: '1' });
  expect(askedBy('back')).toEqual({ kind: 'key', key: 'Backspace' });
  expect(askedBy('dead')).toEqual({ kind: 'dead' });
  expect(askedBy('dose 8.5')).toEqual({ kind: 'dose', microlitres: 8.5 });
  expect(askedBy('dose 8,5')).toEqual({ kind: 'dose', microlitres: 8.5 });
  for (const word of ['flag', 'repeat', 'pause', 'tip', 'capillary']) expect(askedBy(word), word).not.toBeNull();
});

test('whatever else is spoken in the room means nothing: a sentence, a code, a dose nobody gives', () => {
  for (const words of ['next Tuesday', 'the leak was bad', '27-014', 'dose', 'dose of semen', 'dose 80', ''])
    expect(askedBy(words), words).toBeNull();
});
