import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';

/** True where a PDF can be read back by an independent program (poppler); tests of papers are skipped, and counted, where not. */
export const canReadPdf = spawnSync('pdftotext', ['-v'], { stdio: 'ignore' }).status === 0;

function withFile<T>(pdf: Uint8Array, use: (file: string, folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'combwright-paper-'));
  const file = join(folder, 'paper.pdf');
  writeFileSync(file, pdf);
  try {
    return use(file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The words of a PDF as pdftotext reads them, laid out as on the page. */
export const wordsOf = (pdf: Uint8Array): string =>
  withFile(pdf, (file) => execFileSync('pdftotext', ['-layout', file, '-']).toString());

/** Page size in millimetres, and the number of pages, as pdfinfo says. */
export function sheetOf(pdf: Uint8Array): { width: number; height: number; pages: number; tagged: boolean } {
  const said = withFile(pdf, (file) => execFileSync('pdfinfo', [file]).toString());
  const [, width = '0', height = '0'] = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(said) ?? [];
  const millimetres = (points: string) => (Number(points) * 25.4) / 72;
  return {
    width: millimetres(width),
    height: millimetres(height),
    pages: Number(/Pages:\s+(\d+)/.exec(said)?.[1]),
    tagged: /Tagged:\s+yes/.test(said),
  };
}

/** Each page as a PNG at `dpi`. With `keep`, also written to .out/papers/NAME-1.png to be looked at. */
export function picturesOf(pdf: Uint8Array, dpi = 150): Uint8Array[] {
  return withFile(pdf, (file, folder) => {
    execFileSync('pdftoppm', ['-r', String(dpi), '-png', file, join(folder, 'page')]);
    const pages = readdirSync(folder).filter((name) => name.endsWith('.png'));
    return pages.sort().map((name) => new Uint8Array(readFileSync(join(folder, name))));
  });
}

let prepared = false;
/** What an independent reader finds in the QR symbols of a picture. */
export async function codesIn(png: Uint8Array): Promise<string[]> {
  if (!prepared) {
    const wasm = readFileSync('node_modules/zxing-wasm/dist/reader/zxing_reader.wasm');
    prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(wasm).buffer } });
    prepared = true;
  }
  const found = await readBarcodes(new Blob([new Uint8Array(png)]), { formats: ['QRCode'], tryHarder: true });
  return found.map(({ text }) => text);
}
