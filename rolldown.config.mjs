import { defineConfig } from 'rolldown';

/** '#…' is ours and bundled; package names and node: stay outside. */
const external = (id) => /^(node:|@?[a-z0-9])/i.test(id) && !id.startsWith('#') && !/^[a-z]:[\\/]/i.test(id);

export default defineConfig({
  input: { combwright: 'src/main/combwright.ts', worker: 'src/compute/node/worker.ts' },
  platform: 'node',
  external,
  output: { dir: 'dist/node', format: 'esm', entryFileNames: '[name].js', cleanDir: true, sourcemap: true },
});
