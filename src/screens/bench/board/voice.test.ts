import { afterEach, expect, test } from 'vitest';
import { localVoice, spokenCode } from './voice.ts';

const browser = globalThis as { speechSynthesis?: unknown };
afterEach(() => {
  delete browser.speechSynthesis;
});

/** A browser that has these voices. */
const withVoices = (...voices: { lang: string; localService: boolean; name: string }[]) => {
  browser.speechSynthesis = { getVoices: () => voices };
};

test('only a voice of the device itself is used: one that sends the words to a server never is', () => {
  withVoices({ lang: 'en-GB', localService: false, name: 'far' });
  expect(localVoice()).toBeNull();
  withVoices({ lang: 'en-GB', localService: false, name: 'far' }, { lang: 'en-US', localService: true, name: 'here' });
  expect(localVoice()).toMatchObject({ name: 'here' });
  withVoices({ lang: 'pl-PL', localService: true, name: 'another language' });
  expect(localVoice()).toBeNull();
});

test('without any voice the board stays silent', () => {
  expect(localVoice()).toBeNull();
});

test('a code is spoken sign by sign', () => {
  expect(spokenCode('27-014')).toBe('2 7 , 0 1 4');
});
