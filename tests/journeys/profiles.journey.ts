import type { Running } from '../support/running-server.ts';
import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const on = (day: string) => `?today=${day}`;
const at = (day: string) => ({ done: `${day}T10:00:00+02:00[Europe/Berlin]`, happened: true });

/** Six bars of two springs: grafted, counted, emerged. */
async function bars(server: Running) {
  const dam = await does(server, 'record-queen', { queen: { code: '26-014', emerged: '2026-08-20' } });
  await does(server, 'record-queen', { queen: { code: '26-015', emerged: '2026-08-20' } });
  const mother = await does(server, 'record-queen', { queen: { code: 'R-07', emerged: '2026-08-20' } });
  const accepted = [13, 15, 11, 14, 16, 12];
  for (const [i, many] of accepted.entries()) {
    const day = `2027-05-0${i + 1}`;
    const ranges = [{ position_from: 1, position_to: 20, dam: dam.id }];
    const bar = await does(server, 'record-graft', { graft: { code: `bar ${i + 1}`, day }, ranges }, at(day));
    const positions = Array.from({ length: many }, (_, k) => k + 1);
    await does(server, 'record-cells', { graft: bar.id, what: 'accepted', positions }, at(`2027-05-0${i + 2}`));
    const virgins = positions.slice(1).map((position) => ({ position }));
    await does(server, 'emerge-virgins', { graft: bar.id, virgins }, at(`2027-05-${13 + i}`));
  }
  const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-07-24' };
  const sides = { dams: [dam.id], drone_sources: [{ queen: mother.id }] };
  return (await does(server, 'plan-cross', { cross, ...sides }, at('2027-05-20'))).id;
}

test('a set of times of one’s own: made from one that ships, taught by one’s own bars, usual, and stepped back', async ({
  page,
  server,
}) => {
  const cross = await bars(server);
  await page.goto(`${server.url}/rearing/profiles${on('2027-06-01')}`);
  await expect(page.getByRole('heading', { name: 'Standard text', level: 2 })).toBeVisible();
  const accepted = page.getByRole('row', { name: /Larvae accepted/ });
  await expect(accepted).toContainText('80 %');
  await expect(accepted).toContainText('6 batches, 81 of 120');
  await expectAccessible(page);
  await picture(page, 'profiles');

  await page.getByText('Make one of your own from this').click();
  await page.getByLabel('What it is called').fill('Hill yard');
  await page.getByRole('button', { name: 'Make it' }).click();
  await expect(page.getByRole('heading', { name: 'Hill yard', level: 2 })).toBeVisible();
  await page.getByRole('button', { name: 'Take from your records: Larvae accepted' }).click();
  await expect(accepted).toContainText('own records: 6 batches, 81 of 120');
  await page.getByRole('button', { name: 'Change: Virgins sound and found on the day' }).click();
  await page.getByRole('textbox', { name: 'Value' }).fill('140');
  await page.getByRole('button', { name: 'Keep this figure' }).click();
  await expect(page.getByText('140 % cannot be meant: it lies between 1 % and 100 %.').first()).toBeVisible();
  await page.getByRole('textbox', { name: 'Value' }).fill('80');
  await page.getByLabel('What it rests on').fill('my counts of 2026');
  await picture(page, 'profiles-figure');
  await page.getByRole('button', { name: 'Keep this figure' }).click();
  await expect(page.getByRole('row', { name: /Virgins sound/ }).first()).toContainText('my counts of 2026');

  // Emptied, a figure is that of the set it was made from again, and says what that rests on.
  await page.getByRole('button', { name: 'Change: Virgins sound and found on the day' }).click();
  await expect(page.getByText('empty: back to “Standard text”, 88 %')).toBeVisible();
  await page.getByRole('textbox', { name: 'Value' }).fill('');
  await page.getByRole('button', { name: 'Keep this figure' }).click();
  await expect(page.getByText('the figure of “Standard text” again, 88 %')).toBeVisible();
  await expect(page.getByRole('row', { name: /Virgins sound/ }).first()).toContainText('88 %');
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('row', { name: /Virgins sound/ }).first()).toContainText('my counts of 2026');
  await page.getByRole('button', { name: 'Use for every cross that names none' }).click();
  await expect(page.getByText('This set holds for every cross that names none.')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'profiles-own');

  // The chances of a cross that names none now rest on it; more larvae are needed.
  await page.goto(`${server.url}/rearing/countback/${cross}${on('2027-06-01')}`);
  await expect(page.getByText('Worked out with the times and losses of “Hill yard”.')).toBeVisible();
  await expect(page.getByText(/Graft (2[89]|3\d) larvae/)).toBeVisible({ timeout: 15_000 });
  await expect(page.getByText('These tasks were counted with other times')).toBeHidden();
  await page.keyboard.press('Control+z');
  await expect(page.getByText('Worked out with the times and losses of “Standard text”.')).toBeVisible();
  await expect(page.getByText('Graft 26 larvae')).toBeVisible({ timeout: 15_000 });

  // Each queen of the cross has three who could stand in; one press names one.
  await page.goto(`${server.url}/crosses/${cross}${on('2027-06-01')}`);
  await expect(page.getByText('0 of 3 named and not known to be gone.').first()).toBeVisible();
  await page.getByRole('button', { name: 'Name 26-015 as a stand-in' }).first().click();
  await expect(page.getByText('1 of 3 named and not known to be gone.')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'stand-ins');
});
