/** Runs once before the tests. Real servers the tests need are started by scripts/test.mjs; here only the temporary folder is made. */
import { mkdirSync } from 'node:fs';

export function setup(): void {
  mkdirSync('.out', { recursive: true });
}
