import { expect, test } from 'vitest';
import { pack } from '../kept-run.ts';
import { bringing, Unreachable } from './bringing.ts';

const stock = { stock: { from: 'question', path: '/stock' } } as const;
const run = { run: { from: 'kept', path: '/run' } } as const;

test('what is kept is unpacked and fetched once; the answer of a question is fetched again when asked fresh', async () => {
  const asked: string[] = [];
  let n = 0;
  const bring = bringing(async (path) => {
    asked.push(path);
    return path === '/run' ? new Response(pack({ seed: 1 })) : Response.json({ answer: ++n, seq: 3 });
  });
  expect(await bring({ ...stock, ...run })).toEqual({ stock: 1, run: { seed: 1 } });
  expect(await bring({ ...stock, ...run })).toEqual({ stock: 1, run: { seed: 1 } });
  expect(await bring({ ...stock, ...run }, true)).toEqual({ stock: 2, run: { seed: 1 } });
  expect(asked).toEqual(['/stock', '/run', '/stock']);
});

test('lost bytes are null; a refusal fails; out of reach says so and is tried again', async () => {
  const bring = (status: number) => bringing(async () => new Response('{}', { status }));
  expect(await bring(404)(run)).toEqual({ run: null });
  await expect(bring(400)(stock)).rejects.toThrow('/stock: 400');
  let isUp = false;
  const patchy = bringing(async () => {
    if (!isUp) throw new TypeError('fetch failed');
    return Response.json({ answer: 'here' });
  });
  await expect(patchy(stock)).rejects.toBeInstanceOf(Unreachable);
  isUp = true;
  expect(await patchy(stock)).toEqual({ stock: 'here' });
});
