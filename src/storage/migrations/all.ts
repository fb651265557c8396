import { theFirstBook } from './0001-the-first-book.ts';
import type { Migration } from './migration.ts';

/** Every step, oldest first. */
export const migrations: readonly Migration[] = [theFirstBook];

/** The schema this program writes. */
export const schemaVersion = migrations.length;
