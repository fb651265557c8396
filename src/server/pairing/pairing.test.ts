import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { momentAt } from '#units/moment.ts';
import { type KeptPairing, pairingOf } from './pairing.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** A pairing whose clock is turned by hand and whose dice count up. */
function made(kept: KeptPairing = { openUntil: null, devices: [] }) {
  let at = Date.UTC(2027, 5, 12, 7);
  let die = 0;
  const saved: KeptPairing[] = [];
  const pairing = pairingOf({
    clock: { now: () => momentAt(at, 'Europe/Berlin') },
    random: { bytes: (n) => Uint8Array.from({ length: n }, () => (die = (die + 37) % 251)) },
    hash: (bytes) => createHash('sha256').update(bytes).digest('hex'),
    kept,
    save: (each) => saved.push(each),
  });
  return {
    pairing,
    saved,
    later: (milliseconds: number) => {
      at += milliseconds;
    },
  };
}

describe('letting a device in', () => {
  test('the network is closed until it is opened, closes by itself after a long day, and a restart in between finds it open', () => {
    const { pairing, saved, later } = made();
    expect(pairing.isOpen()).toBe(false);
    pairing.open();
    expect(pairing.isOpen()).toBe(true);
    const again = made(saved.at(-1));
    again.later(15 * HOUR);
    expect(again.pairing.isOpen()).toBe(true);
    later(16 * HOUR);
    expect(pairing.isOpen()).toBe(false);
  });

  test('a code lets one device in, once, in capitals or not, with its dash or not', () => {
    const { pairing } = made();
    pairing.open();
    const { code } = pairing.newCode(14);
    expect(code).toMatch(/^[2-9A-HJ-NP-Z]{4}-[2-9A-HJ-NP-Z]{4}$/);
    const done = pairing.pair(` ${code.toLowerCase().replace('-', '')} `, 'Tablet');
    expect(done?.device).toMatchObject({ name: 'Tablet', until: done && done.device.paired + 14 * DAY });
    expect(pairing.deviceOf(done?.key)).toMatchObject({ name: 'Tablet' });
    expect(pairing.pair(code, 'Another')).toBeNull();
  });

  test('a code dies after ten minutes, after five wrong tries, and when the network is closed', () => {
    const { pairing, later } = made();
    pairing.open();
    const old = pairing.newCode(1).code;
    later(10 * 60_000);
    expect(pairing.pair(old, 'late')).toBeNull();
    const guessed = pairing.newCode(1).code;
    for (let i = 0; i < 5; i++) expect(pairing.pair('AAAA-AAAA', 'guess')).toBeNull();
    expect(pairing.pair(guessed, 'right, too late')).toBeNull();
    const shut = pairing.newCode(1).code;
    pairing.close();
    pairing.open();
    expect(pairing.pair(shut, 'shut')).toBeNull();
  });

  test('a device is listed without its token, is sent away at once, and its time ends by itself', () => {
    const { pairing, saved, later } = made();
    let told = 0;
    pairing.listen(() => told++);
    pairing.open();
    const one = pairing.pair(pairing.newCode(1).code, 'one');
    const two = pairing.pair(pairing.newCode(14).code, 'two');
    expect(JSON.stringify(pairing.devices())).not.toContain('token');
    // What is kept on the disk does not let anybody in.
    expect(JSON.stringify(saved)).not.toContain(one?.key.split('.')[1] ?? 'no key');
    expect(pairing.deviceOf(`${two?.device.id}.${one?.key.split('.')[1]}`)).toBeNull();
    expect(pairing.deviceOf(undefined)).toBeNull();
    later(DAY);
    expect(pairing.deviceOf(one?.key)).toBeNull();
    expect(pairing.deviceOf(two?.key)?.name).toBe('two');
    const before = told;
    pairing.tick();
    expect(told).toBe(before + 1);
    expect(pairing.devices().map(({ name }) => name)).toEqual(['two']);
    pairing.revoke(two?.device.id ?? '');
    expect(pairing.deviceOf(two?.key)).toBeNull();
  });
});
