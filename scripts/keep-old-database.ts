/**
 * node --import tsx scripts/keep-old-database.ts: keeps a real, small database of the schema of now in tests/old-databases/, so that every later
 * version is tested on it. Done once for each released schema; while a schema is not released it is made anew.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { migrations } from '#storage/migrations/all.ts';
import { openSqlite } from '#storage/sqlite/open.ts';
import { safeCopyOf } from '#storage/sqlite/safe-copy.ts';
import { storeOver } from '#storage/store.ts';
import { clock } from '../tests/support/databases.ts';
import { twelveInseminated } from '../tests/support/inseminated.ts';

process.chdir(new URL('..', import.meta.url).pathname);
const kept = `tests/old-databases/schema-${migrations.length}.sqlite.gz`;
if (existsSync(kept)) console.log(`${kept} is made anew: right only while this schema was never released`);
const folder = mkdtempSync(join(tmpdir(), 'combwright-keep-'));
const store = await storeOver(openSqlite(join(folder, 'book.sqlite')), { clock, epoch: 'kept' });
await twelveInseminated(store);
await store.close();
await safeCopyOf(join(folder, 'book.sqlite'), join(folder, 'copy.sqlite'));
writeFileSync(kept, gzipSync(readFileSync(join(folder, 'copy.sqlite')), { level: 9 }));
rmSync(folder, { recursive: true });
console.log(`kept ${kept}`);
