import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from '@playwright/test';
import { create } from 'qrcode';
import { labelCode } from '../../src/documents/bench/bench-labels.ts';
import { benchStock } from './support/bench-stock.ts';
import { expect, expectAccessible, test } from './support/journey.ts';

const [WIDTH, HEIGHT] = [640, 480];

/** A picture of a label as a camera sees it: a grey desk, and a QR symbol of so many pixels on white paper. */
function frameOf(payload: string): Uint8Array {
  const { modules } = create(payload, { errorCorrectionLevel: 'Q' });
  const grey = new Uint8Array((WIDTH * HEIGHT * 3) / 2).fill(128);
  grey.fill(110, 0, WIDTH * HEIGHT);
  const side = 5;
  const all = modules.size + 8;
  for (let row = 0; row < all * side; row++)
    for (let column = 0; column < all * side; column++) {
      const [y, x] = [Math.floor(row / side) - 4, Math.floor(column / side) - 4];
      const isInside = x >= 0 && y >= 0 && x < modules.size && y < modules.size;
      const isDark = isInside && modules.get(y, x) !== 0;
      grey[(row + 120) * WIDTH + column + 210] = isDark ? 30 : 225;
    }
  return grey;
}

/** A short film for Chromium's made-up camera (YUV4MPEG2, 4:2:0). */
function film(file: string, payload: string): void {
  const frame = Buffer.concat([Buffer.from('FRAME\n'), frameOf(payload)]);
  const head = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A0:0 C420jpeg\n`);
  writeFileSync(file, Buffer.concat([head, ...Array.from({ length: 10 }, () => frame)]));
}

test('a label held before the camera is read as by a reader: the queen of cage 3 is under the microscope', async ({
  server,
}) => {
  const stock = await benchStock(server);
  const folder = mkdtempSync(join(tmpdir(), 'combwright-camera-'));
  const file = join(folder, 'label.y4m');
  film(file, labelCode('cages', 3));
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${file}`,
    ],
  });
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  const elsewhere: string[] = [];
  page.on('request', (request) => {
    const { protocol, origin } = new URL(request.url());
    if (protocol.startsWith('http') && origin !== new URL(server.url).origin) elsewhere.push(request.url());
  });
  await page.goto(`${server.url}/bench/${stock.day}/board/${stock.crossB}`);
  const board = page.getByRole('region', { name: 'Bench board' });
  await expect(board).toBeVisible();
  await page.waitForTimeout(300);
  await page.keyboard.press('k');
  await expect(page.getByText('The camera reads labels.')).toBeVisible();
  await expect(board.locator('.board-plate')).toContainText('Give 8.0 µl to 27-003', { timeout: 20_000 });
  await page.screenshot({ path: '.out/pictures/board-camera.png' });
  await expectAccessible(page);
  // Held there, it is read once: she is still in hand, not closed, not two.
  await page.waitForTimeout(3_000);
  await expect(board.locator('.board-plate')).toContainText('Give 8.0 µl to 27-003');
  await page.keyboard.press('k');
  await expect(page.getByText('The camera reads labels.')).toBeHidden();
  expect(elsewhere).toEqual([]);
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});
