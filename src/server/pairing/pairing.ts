import type { Clock, Random } from '#ports/clock.ts';
import { epochOf } from '#units/moment.ts';

/** A device that was let in. Its token is kept only as a hash. */
export type PairedDevice = {
  id: string;
  name: string;
  token: string;
  /** Milliseconds since 1970. */
  paired: number;
  until: number;
  seen: number | null;
};

/** What outlives a restart: until when the network is let in, and the devices. */
export type KeptPairing = { openUntil: number | null; devices: readonly PairedDevice[] };

/** A code as it is shown: it lets one device in, once. */
export type PairingCode = { code: string; until: number; days: number };

export type PairingNeeds = {
  clock: Clock;
  random: Random;
  hash: (bytes: Uint8Array) => string;
  kept: KeptPairing;
  save: (kept: KeptPairing) => void;
};

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
/** A code is good for ten minutes, and for five wrong tries. */
const CODE_LIVES = 10 * MINUTE;
const MOST_WRONG = 5;
/** The network stays open for a long day at the bench, then closes by itself; a restart in between opens it again. */
const OPEN_FOR = 16 * HOUR;
/** When a device was last seen is written down at most this often. */
const SEEN_EVERY = MINUTE;
/** 32 signs, none that looks like another: no I, O, 0, 1. */
const SIGNS = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';
const LONG = 8;

const plain = (code: string) => code.toUpperCase().replaceAll(/[^A-Z0-9]/g, '');
const shown = (signs: string) => `${signs.slice(0, 4)}-${signs.slice(4)}`;
const hex = (bytes: Uint8Array) => [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');

/** Who may use this server from the local network: nobody, until somebody at the machine itself opens it and shows a code. */
export type Pairing = ReturnType<typeof pairingOf>;

/**
 * The rules of letting devices in. The local network is closed until it is opened; then a device needs a code that is shown at the machine,
 * lives ten minutes, lets one device in and dies of five wrong tries. A device is listed, is sent away at any time, and its time ends by
 * itself.
 */
export function pairingOf({ clock, random, hash, kept, save }: PairingNeeds) {
  let state: KeptPairing = kept;
  let code: (PairingCode & { wrong: number }) | null = null;
  const listeners = new Set<() => void>();
  const now = () => epochOf(clock.now());
  const hashed = (token: string) => hash(new TextEncoder().encode(token));
  const put = (next: Partial<KeptPairing>) => {
    state = { ...state, ...next };
    save(state);
  };
  const tell = () => {
    for (const heard of listeners) heard();
  };
  const isOpen = () => state.openUntil !== null && now() < state.openUntil;
  const standing = () => state.devices.filter(({ until }) => now() < until);
  const codeNow = (): PairingCode | null => (code !== null && now() < code.until && isOpen() ? code : null);

  return {
    isOpen,
    openUntil: (): number | null => (isOpen() ? state.openUntil : null),
    /** The devices whose time has not ended, without their tokens. */
    devices: (): Omit<PairedDevice, 'token'>[] => standing().map(({ token: _, ...device }) => device),
    code: codeNow,
    /** Calls when the network was opened or closed, or a device was sent away. */
    listen(heard: () => void): () => void {
      listeners.add(heard);
      return () => void listeners.delete(heard);
    },
    open(): void {
      put({ openUntil: now() + OPEN_FOR });
      tell();
    },
    close(): void {
      code = null;
      put({ openUntil: null });
      tell();
    },
    /** Makes a code for one device that is then let in for so many days. */
    newCode(days: number): PairingCode {
      const signs = [...random.bytes(LONG)].map((byte) => SIGNS[byte % SIGNS.length]).join('');
      code = { code: shown(signs), until: now() + CODE_LIVES, days, wrong: 0 };
      return code;
    },
    /** Lets a device in: its key, to be kept by it alone; `null` when the code is not the one, too old or used. */
    pair(said: string, name: string): { key: string; device: Omit<PairedDevice, 'token'> } | null {
      const good = codeNow();
      if (good === null || code === null) return null;
      if (hashed(plain(said)) !== hashed(plain(good.code))) {
        code.wrong += 1;
        if (code.wrong >= MOST_WRONG) code = null;
        return null;
      }
      code = null;
      const id = hex(random.bytes(8));
      const token = hex(random.bytes(32));
      const device = { id, name, paired: now(), until: now() + good.days * DAY, seen: null };
      put({ devices: [...standing(), { ...device, token: hashed(token) }] });
      return { key: `${id}.${token}`, device };
    },
    /** The device a key belongs to, while its time has not ended; notes that it was seen. */
    deviceOf(key: string | undefined): Omit<PairedDevice, 'token'> | null {
      const [id, token] = (key ?? '').split('.');
      const device = standing().find((each) => each.id === id);
      if (device === undefined || token === undefined || device.token !== hashed(token)) return null;
      if (device.seen === null || now() - device.seen > SEEN_EVERY)
        put({ devices: state.devices.map((each) => (each === device ? { ...each, seen: now() } : each)) });
      return device;
    },
    /** Sends a device away at once. */
    revoke(id: string): void {
      put({ devices: state.devices.filter((each) => each.id !== id) });
      tell();
    },
    /** To be called now and then: what has ended is taken off, and told. */
    tick(): void {
      const isEnded = state.openUntil !== null && !isOpen();
      const left = standing();
      if (!isEnded && left.length === state.devices.length) return;
      put({ openUntil: isOpen() ? state.openUntil : null, devices: left });
      tell();
    },
  };
}
