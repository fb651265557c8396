import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { KeptPairing } from '#server/pairing/pairing.ts';

const device = z.object({
  id: z.string(),
  name: z.string(),
  token: z.string(),
  paired: z.number(),
  until: z.number(),
  seen: z.number().nullable(),
});
const shape = z.object({ openUntil: z.number().nullable(), devices: z.array(device) });
const nobody: KeptPairing = { openUntil: null, devices: [] };

/**
 * The devices that were let in, in a file of their own beside the book and readable by its owner alone: they are no part of the book, go into
 * no copy and no export. A file that cannot be read lets nobody in.
 */
export function pairedFile(folder: string): { read(): KeptPairing; write(kept: KeptPairing): void } {
  const file = join(folder, 'paired-devices.json');
  return {
    read() {
      try {
        return existsSync(file) ? shape.parse(JSON.parse(readFileSync(file, 'utf8'))) : nobody;
      } catch {
        return nobody;
      }
    },
    write(kept) {
      writeFileSync(`${file}.new`, JSON.stringify(kept), { mode: 0o600 });
      renameSync(`${file}.new`, file);
    },
  };
}
