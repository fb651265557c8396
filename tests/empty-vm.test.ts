/** Invariant 4: every entry point of domain/ runs where there is nothing but the language. */
import { readdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import vm from 'node:vm';
import { rolldown } from 'rolldown';
import { expect, test } from 'vitest';

function domainFiles(): string[] {
  return readdirSync('src/domain', { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts') && !entry.name.endsWith('.test.ts'))
    .map((entry) => join(entry.parentPath, entry.name));
}

async function runInEmptyVm(files: readonly string[], expression: string): Promise<unknown> {
  const entry = '.out/empty-vm-entry.ts';
  writeFileSync(entry, files.map((file, i) => `export * as m${i} from ${JSON.stringify(resolve(file))};`).join('\n'));
  const bundle = await rolldown({
    input: resolve(entry),
    platform: 'neutral',
    resolve: { mainFields: ['module', 'main'] },
  });
  const { output } = await bundle.generate({ format: 'iife', name: 'entry' });
  const context = vm.createContext({});
  vm.runInContext(output[0].code, context);
  return vm.runInContext(expression, context);
}

test('all of domain/ loads in an empty VM', async () => {
  const files = domainFiles();
  expect(files.length).toBeGreaterThan(20);
  expect(await runInEmptyVm(files, 'Object.keys(entry).length')).toBe(files.length);
}, 60_000);

test('the countback of 12 June 2027 with queens of 8 days grafts on 23 May there too', async () => {
  const files = ['src/domain/rearing/count-back.ts', 'src/domain/rearing/profiles.ts'];
  const wish = "{ inseminate: '2027-06-12', queens: 12, queenAge: 8, profile: entry.m1.shippedProfiles[0] }";
  const graft = `entry.m0.countBack(${wish}).find(({ key }) => key === 'graft').day`;
  expect(await runInEmptyVm(files, graft)).toBe('2027-05-23');
}, 60_000);
