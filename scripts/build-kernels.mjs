/**
 * Compiles the kernels of src/numeric/kernels/assembly (AssemblyScript) to WebAssembly and embeds them as text in kernels.wasm.ts, so that they run in
 * Node, in a worker, in an empty VM and in a browser without fetching anything. Does nothing when no source is newer.
 */
import { existsSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import asc from 'assemblyscript/asc';

const folder = 'src/numeric/kernels/assembly';
const target = 'src/numeric/kernels/kernels.wasm.ts';
const sources = readdirSync(folder)
  .filter((name) => name.endsWith('.ts'))
  .map((name) => join(folder, name));
const newest = Math.max(...[...sources, 'scripts/build-kernels.mjs'].map((file) => statSync(file).mtimeMs));

async function compile() {
  let bytes;
  const options = [
    '-O3',
    '--noAssert',
    '--runtime',
    'stub',
    '--enable',
    'simd',
    '--importMemory',
    '--initialMemory',
    '1',
    '--maximumMemory',
    '65536',
  ];
  const { error, stderr } = await asc.main([join(folder, 'index.ts'), '--outFile', 'kernels.wasm', ...options], {
    writeFile: (name, data) => {
      if (name.endsWith('.wasm')) bytes = data;
    },
  });
  if (error) throw new Error(String(stderr));
  return Buffer.from(bytes).toString('base64');
}

if (!existsSync(target) || statSync(target).mtimeMs < newest) {
  const text = `// Made by scripts/build-kernels.mjs from assembly/.\nexport const kernelsText =\n  '${await compile()}';\n`;
  writeFileSync(target, text);
}
