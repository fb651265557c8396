import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const at = (day: string) => ({ happened: true, done: `${day}T10:00:00+02:00[Europe/Berlin]` });

test('before anything is known, Lessons says what it will answer', async ({ page, server }) => {
  await page.goto(`${server.url}/bench/lessons?today=2027-06-12`);
  await expect(page.getByText('No queen is inseminated yet')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'lessons-empty');
});

test('sixty queens by tip: small numbers stay small, a funnel, a run line, open ends counted', async ({
  page,
  server,
}) => {
  test.slow();
  const dam = (await does(server, 'record-queen', { queen: { code: '25-020' } }, at('2027-05-01'))).id;
  const people: string[] = [];
  for (const name of ['Mira', 'Tadek', 'Oda']) people.push((await does(server, 'record-person', { name })).id);
  const plan = {
    cross: { code: 'B', queens_wanted: 60, dose_ul: 8, inseminate_on: '2027-06-12' },
    dams: [dam],
    drone_sources: [{ queen: dam }],
    drones_there: true,
    virgins_there: true,
  };
  const cross = (await does(server, 'plan-cross', plan, at('2027-06-01'))).id;
  // Tip 1 gets every queen that fails by drone caps or is lost; tip 6 only three queens.
  for (let n = 0; n < 60; n++) {
    const day = `2027-06-${12 + Math.floor(n / 15) * 3}`;
    const code = `27-${String(n + 1).padStart(3, '0')}`;
    const queen = (await does(server, 'record-queen', { queen: { code, emerged: '2027-06-04', dam } }, at(day))).id;
    const tip = n >= 57 ? 6 : 1 + (n % 5);
    const dose = { cross, queen, draws: [], microlitres: 8, tip, operator: people[n % 3] };
    const bench =
      n % 15 === 0 ? (await does(server, 'open-bench-day', { day, zone: 'Europe/Berlin' }, at(day))).id : '';
    if (bench !== '') days.set(day, bench);
    await does(server, 'give-dose', { ...dose, bench_day: days.get(day) }, at(day));
    if (n % 20 === 7) continue;
    const sight = tip === 1 && n % 10 === 0 ? 'drone-caps' : tip === 1 && n % 10 === 5 ? 'queen-gone' : 'worker-caps';
    await does(server, 'check-laying', { queen, sights: [sight], day: '2027-07-12' }, at('2027-07-12'));
  }
  await page.goto(`${server.url}/bench/lessons?today=2027-08-01`);
  await page.getByRole('combobox', { name: 'Part the queens by' }).selectOption('tip');
  await expect(page.getByText('45 of 57 lay. 3 more are not known yet.')).toBeVisible();
  await expect(page.getByText('Tip 1: 0 of 12. All others: 45 of 45. Luck alone hardly does this.')).toBeVisible();
  await expect(page.getByText('Tip 6: 3 of 3 (fewer than 5, not compared)')).toBeVisible();
  await expect(page.getByText(/^Tip 1 lies outside the band/)).toBeVisible();
  await expect(page.getByText(/^Tip 1: signal at queen 3/)).toBeVisible();
  await page.setViewportSize({ width: 1440, height: 5200 });
  await expectAccessible(page);
  await picture(page, 'lessons-sixty');
  // The plots are walked by keyboard, and every point has its name in counts.
  const point = page.getByRole('group', { name: /outside the band/ }).getByRole('link', { name: 'tip 1: 0 of 12' });
  await point.focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('#behind-1')).toHaveAttribute('open', '');
  await expect(page.locator('#behind-1').getByText('does not lay')).toHaveCount(12);
});

/** Bench days made so far, by day. */
const days = new Map<string, string>();

/** A repeatable draw of 0 … 1 (Lehmer 1951, with the multiplier of Park and Miller 1988). */
function draws(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}
const dayAfter = (from: string, days: number) =>
  new Date(Date.parse(`${from}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);

/**
 * An invented book: 160 queens inseminated by three people from sixteen tubes (older queens lay less often, tubes differ, people and tips
 * are all alike; three not known yet),
 * seen until next summer; 30 sisters mated by themselves, of whom fewer are lost; 8 bought the next spring.
 */
async function twoHundredQueens(server: Parameters<typeof does>[0]): Promise<void> {
  const next = draws(20270612);
  const lines = ['Heath', 'Ridge'];
  const lineIds: string[] = [];
  for (const name of lines) lineIds.push((await does(server, 'record-line', { name })).id);
  const rows = ['queen,inseminated,operator,batch,tip,dose,laying,laying_on,checked_on,lost_on,fate,brood'];
  const done = '2027-06-20';
  for (let n = 0; n < 160; n++) {
    const code = `27-${String(n + 1).padStart(3, '0')}`;
    const emerged = dayAfter('2027-06-01', Math.floor(next() * 12));
    const line = lineIds[n % 2];
    await does(server, 'record-queen', { queen: { code, emerged, line, origin: 'bred' } }, at('2027-06-14'));
    const age = (Date.parse(done) - Date.parse(emerged)) / 86_400_000;
    const laying = next() < 1 / (1 + Math.exp(-(4.2 - 0.22 * age + 1.3 * ((Math.floor(n / 10) % 3) - 1))));
    const end = dayAfter(done, 30 + Math.floor(next() * 300));
    const lost = laying && next() < 0.45;
    const who = ['Mira', 'Tadek', 'Oda'][Math.floor(next() * 3)];
    const dose = [8, 8, 10][Math.floor(next() * 3)];
    const tip = 1 + Math.floor(next() * 2);
    const alive = `yes,2027-07-15,${lost ? '' : '2028-05-20'},${lost ? end : ''},${lost ? 'lost' : ''},worker`;
    const ends = n >= 157 ? ',,,,,' : laying ? alive : 'no,,2027-07-15,,,drone';
    rows.push(`${code},${done},${who},C-${String(Math.floor(n / 10) + 1).padStart(2, '0')},${tip},${dose},${ends}`);
  }
  const body = new TextEncoder().encode(rows.join('\n'));
  const headers = { 'Content-Type': 'application/octet-stream' };
  const kept = await fetch(`${server.url}/api/upload`, { method: 'POST', headers, body });
  const { hash } = (await kept.json()) as { hash: string };
  const imported = await fetch(`${server.url}/api/act/import-outcomes`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ input: { hash }, ...at('2028-05-20') }),
  });
  expect(imported.ok, await imported.text()).toBe(true);
  for (let n = 0; n < 38; n++) {
    const bought = n >= 30;
    const origin = bought ? { origin: 'bought', came_on: '2028-04-10' } : { origin: 'bred', line: lineIds[n % 2] };
    const queen = { code: `27-${500 + n}`, emerged: '2027-06-05', ...origin };
    const { id } = await does(server, 'record-queen', { queen }, at('2027-06-20'));
    await does(server, 'record-natural-mating', { queen: id, suspected: 0 }, at('2027-06-20'));
    if (!bought)
      await does(
        server,
        'check-laying',
        { queen: id, sights: ['worker-caps', 'eggs'], day: '2027-07-15' },
        at('2027-07-15'),
      );
    const lost = n % 5 === 1;
    const on = dayAfter('2027-08-01', 7 * n);
    if (lost) await does(server, 'record-fate', { queen: id, kind: 'died', happened_on: on }, at(on));
    else await does(server, 'check-laying', { queen: id, sights: ['eggs'], day: '2028-05-20' }, at('2028-05-20'));
  }
}

test('157 queens weighed together, and how long inseminated and naturally mated queens last', async ({
  page,
  server,
}) => {
  test.slow();
  await twoHundredQueens(server);
  await page.goto(`${server.url}/bench/lessons?today=2028-06-01`);
  const goes = page.getByRole('region', { name: 'What goes with laying' });
  await expect(goes.getByText(/^157 queens weighed together, \d+ of them lay/)).toBeVisible();
  const age = goes.getByRole('row', { name: /Age of the queen in days: one more/ });
  await expect(age).toContainText(/times 0\.\d\d/);
  await expect(goes.getByText('Goes with is not causes', { exact: false })).toBeVisible();
  await expect(goes.getByText('No difference is seen from one operator to another beyond luck.')).toBeVisible();
  await expect(goes.getByText(/^From one tube to another: a poor one \d+ of 100, a good one \d+/)).toBeVisible();
  await goes.getByText('Each tube, drawn to all').click();
  await expect(goes.getByText(/^C-01: \d+ of 10. Drawn to all: \d+ of 100, likely \d+ to \d+\./)).toBeVisible();
  // What is not in it says why, opened by the keyboard.
  await goes.getByText('What is counted, and what is not').focus();
  await page.keyboard.press('Enter');
  await expect(goes.getByText('Queens whose laying is not known: 3. Not counted.')).toBeVisible();
  const last = page.getByRole('region', { name: 'How long laying queens last' });
  await expect(
    last.getByText(/^Inseminated queens: lost \d+\.\d times as often as naturally mated queens of the same age/),
  ).toBeVisible();
  await page.setViewportSize({ width: 1440, height: 5200 });
  await expectAccessible(page);
  await picture(page, 'lessons-weighed');
  await last.getByRole('combobox', { name: 'Compare queens by' }).selectOption('line');
  await expect(last.getByText(/^Queens of (Heath|Ridge): lost \d+\.\d times as often/)).toBeVisible();
  await last.getByRole('combobox', { name: 'Compare queens by' }).selectOption('year');
  await expect(last.getByText('Fewer than two groups of 5 queens that can be compared.')).toBeVisible();
  await expectAccessible(page);
});
