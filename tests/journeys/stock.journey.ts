import { crc32, deflateSync } from 'node:zlib';
import { does, expect, expectAccessible, picture, test, widths } from './support/journey.ts';

/** A small true PNG (ISO/IEC 15948), made here: one black square. */
function blackPng(side = 16): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type), data]);
    const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    sum.writeUInt32BE(crc32(body));
    return Buffer.concat([length, body, sum]);
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(side, 0);
  header.writeUInt32BE(side, 4);
  header[8] = 8;
  const pixels = deflateSync(Buffer.alloc(side * (side + 1)));
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([signature, chunk('IHDR', header), chunk('IDAT', pixels), chunk('IEND', Buffer.alloc(0))]);
}

test('a queen is written down by keyboard, looked at, corrected, marked, compared, and ends', async ({
  page,
  server,
}) => {
  const mother = await does(server, 'record-queen', {
    queen: { code: '25-003', emerged: '2025-06-04' },
    mark: { colour: 'blue', disc: 3 },
    carries: { how: 'open', drones: 12 },
    seen_on: '2027-05-01',
  });
  const droneMother = await does(server, 'record-queen', {
    queen: { code: 'M-03', emerged: '2025-06-01' },
    mark: { colour: 'blue', disc: 33 },
    seen_on: '2027-05-01',
  });
  await does(server, 'record-queen', {
    queen: { code: '25-004', emerged: '2025-06-04' },
    note: '<img src=x onerror=alert(1)>',
  });

  // N opens the form; everything is typed.
  await page.goto(`${server.url}/stock?today=2027-06-12`);
  await expect(page.getByRole('table', { name: 'The stock book' })).toBeVisible();
  await page.keyboard.press('n');
  await expect(page.getByRole('heading', { name: 'New queen' })).toBeVisible();
  await expectAccessible(page);
  await page.getByRole('textbox', { name: 'Code' }).fill('27-014');
  await page.getByRole('textbox', { name: 'Day she emerged' }).fill('4.6.');
  await expect(page.getByText('Fri 4 Jun 2027')).toBeVisible();
  await page.getByRole('radio', { name: 'guessed' }).check();
  const possible = page.getByRole('combobox', { name: 'Possible dams' });
  for (const code of ['25-003', '25-004']) {
    await possible.fill(code);
    await page.getByRole('option', { name: new RegExp(code) }).click();
  }
  await page.getByRole('textbox', { name: 'How likely 25-003' }).fill('70');
  await expect(page.getByText('2027 is yellow')).toBeVisible();
  await page.getByRole('textbox', { name: 'Disc number' }).fill('14');
  await page.getByRole('combobox', { name: 'What is known of it' }).selectOption('inseminated');
  const sources = page.getByRole('combobox', { name: 'Drone mothers, groups or lines' });
  await sources.fill('M03');
  await page.getByRole('option', { name: /M-03/ }).click();
  await page.getByRole('textbox', { name: 'Drones that gave' }).fill('8,5');
  await picture(page, 'queen-new');
  await expectAccessible(page);
  // What was typed survives a reload.
  await page.reload();
  await expect(page.getByRole('textbox', { name: 'Code' })).toHaveValue('27-014');
  await page.getByRole('button', { name: 'Write her down' }).click();

  // Her leaf: band, descent with a guess named, drones as a group.
  await expect(page.getByRole('heading', { name: '27-014' })).toBeVisible();
  await expect(page.getByRole('img', { name: 'yellow, 2027, disc 14' }).first()).toBeVisible();
  await expect(
    page.getByRole('group', { name: 'Descent of 27-014' }).getByRole('link', { name: '25-003' }),
  ).toBeVisible();
  await page
    .getByText(/Rests on/)
    .first()
    .click();
  await expect(page.getByText(/her dam is a guess, one of 25-003 \(0.7\), 25-004/)).toBeVisible();
  await expect(page.getByText('M-03', { exact: true }).first()).toBeVisible();
  await expectAccessible(page);

  // E corrects; the act can be stepped back.
  await page.keyboard.press('e');
  await expect(page.getByRole('textbox', { name: 'How likely 25-003' })).toHaveValue('70');
  await page.getByRole('radio', { name: 'known', exact: true }).check();
  await page.getByRole('button', { name: 'Keep the correction' }).click();
  await expect(page.getByText('Corrected. The old reading is in her history.')).toBeVisible();

  // Kinship with her mother: one half (textbook); brood with her drones: a quarter.
  const compare = page.getByRole('combobox', { name: 'Compare with' });
  await compare.fill('25-003');
  await page.getByRole('option', { name: /25-003/ }).click();
  await expect(page.getByRole('row', { name: 'Relationship 0.5' })).toBeVisible();
  await expect(page.getByRole('row', { name: 'Brood inbreeding of 27-014 with drones of 25-003 0.25' })).toBeVisible();
  await picture(page, 'queen-kinship');
  await expectAccessible(page);

  // A photo is kept by its first bytes; a drawing with a program in it never is.
  const photo = page.getByLabel('Add a photo');
  await photo.setInputFiles({ name: 'queen.png', mimeType: 'image/png', buffer: blackPng() });
  await expect(page.getByRole('img', { name: 'Photo of 27-014' }).first()).toBeVisible();
  await photo.setInputFiles({
    name: 'evil.png',
    mimeType: 'image/png',
    buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>'),
  });
  await expect(page.getByText('This is no JPEG, PNG or WebP picture.')).toBeVisible();

  // She ends in a span of days; the band says so.
  await page.getByRole('button', { name: 'How she ended' }).click();
  await page.getByRole('textbox', { name: 'On, or not before' }).fill('10.6.');
  await page.getByRole('textbox', { name: 'Not after' }).fill('+0');
  await page.getByRole('combobox', { name: 'What happened' }).selectOption('lost');
  await page.getByRole('button', { name: 'Write down her end' }).click();
  await expect(page.getByText('lost between 10 Jun 2027 and 12 Jun 2027')).toBeVisible();

  // A queen card comes as PDF.
  const card = await page.getByRole('link', { name: /Queen card/ }).getAttribute('href');
  const response = await page.request.get(`${server.url}${card}`);
  expect(response.headers()['content-type']).toBe('application/pdf');

  // What somebody wrote is text, never a program.
  await page.goto(`${server.url}/stock/queen/${mother.id}?today=2027-06-12`);
  await expect(page.getByRole('heading', { name: '25-003' })).toBeVisible();
  await page.goto(`${server.url}/stock`);
  await page.getByRole('link', { name: '25-004' }).click();
  await expect(page.getByText('<img src=x onerror=alert(1)>')).toBeVisible();
  expect(droneMother.id).not.toBe(mother.id);
});

test('lines, sister groups and the kinship grid', async ({ page, server }) => {
  const queens: string[] = [];
  for (const [code, dam] of [
    ['A1', -1],
    ['A2', 0],
    ['B1', -1],
    ['B2', 2],
  ] as const)
    queens.push(
      (
        await does(server, 'record-queen', {
          queen: { code, emerged: '2027-05-20', ...(dam < 0 ? { emerged: '2026-05-20' } : { dam: queens[dam] }) },
          carries: { how: 'open' },
          seen_on: '2027-06-01',
        })
      ).id,
    );

  await page.goto(`${server.url}/stock/lines?today=2027-06-12`);
  await expect(page.getByText('A line is a family of queens')).toBeVisible();
  await page.keyboard.press('n');
  await page.getByRole('textbox', { name: /Name of the line/ }).fill('Alder');
  const founders = page.getByRole('combobox', { name: 'Queens it begins with' });
  await founders.fill('A1');
  await page.getByRole('option', { name: /A1/ }).click();
  await page.getByRole('button', { name: 'Found the line' }).click();
  await expect(page.getByText('only 1 living')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'lines');
  await page.getByRole('link', { name: 'Alder' }).click();
  await expect(page.getByRole('heading', { name: 'line Alder' })).toBeVisible();
  const more = page.getByRole('combobox', { name: 'Queens' });
  await more.fill('A2');
  await page.getByRole('option', { name: /A2/ }).click();
  await page.getByRole('button', { name: 'Put them into this line' }).click();
  await expect(page.getByText('only 2 living')).toBeVisible();
  await expectAccessible(page);

  await page.goto(`${server.url}/stock/sisters?today=2027-06-12`);
  await page.getByRole('button', { name: /New group/ }).click();
  await page.getByRole('textbox', { name: /Name of the group/ }).fill('Island 2027');
  await page.getByRole('textbox', { name: /How many sisters/ }).fill('12');
  await page.getByRole('button', { name: 'Write the group down' }).click();
  await expect(page.getByRole('link', { name: 'Island 2027' })).toBeVisible();
  await expectAccessible(page);

  // who stood at a mating place; a queen who flew there met their drones at random
  await page.getByRole('link', { name: 'Mating places' }).click();
  await page.getByRole('button', { name: /New season of a place/ }).click();
  await page.getByRole('textbox', { name: /Mating place/ }).fill('Kesselgrund');
  const stood = page.getByRole('combobox', { name: 'Drone mothers that stood there' });
  for (const code of ['Island 2027', 'B1']) {
    await stood.fill(code);
    await page.getByRole('option', { name: new RegExp(code) }).click();
  }
  await page.getByLabel('No other drones came').selectOption('known');
  await expectAccessible(page);
  await picture(page, 'mating-place-new');
  await page.getByRole('button', { name: 'Write it down' }).click();
  await expect(page.getByRole('row', { name: /Kesselgrund.*Island 2027, 12 sisters.*B1/ })).toBeVisible();
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'mating-places');
  await page.goto(`${server.url}/stock?today=2027-06-12`);
  await page.getByRole('link', { name: 'A2' }).first().click();
  await page.getByRole('button', { name: 'Say what she carries' }).click();
  await page.getByLabel('What is known of it').selectOption('open');
  await page.getByLabel('Mating place').selectOption({ label: 'Kesselgrund, 2027' });
  await expectAccessible(page);
  await picture(page, 'mated-at-a-place');
  await page.getByRole('button', { name: 'Write it down' }).click();
  await expect(page.getByText('What she carries is written down.')).toBeVisible();
  await page.goto(`${server.url}/stock/places?today=2027-06-12`);
  await expect(
    page
      .getByRole('row', { name: /Kesselgrund/ })
      .getByRole('cell')
      .last(),
  ).toHaveText('1');

  await page.goto(`${server.url}/stock/kinship?today=2027-06-12`);
  const across = page.getByRole('combobox', { name: 'Queens across' });
  for (const code of ['A1', 'A2', 'B1', 'B2']) {
    await across.fill(code);
    await page.getByRole('option', { name: new RegExp(code) }).click();
  }
  await page.getByRole('radio', { name: 'relationship of the two queens' }).check();
  await expect(page.getByRole('grid', { name: 'Kinship grid' })).toBeVisible();
  await expect(page.getByRole('gridcell', { name: '0.5' }).first()).toBeVisible();
  await picture(page, 'kinship-grid');
  await expectAccessible(page);
  await page.getByRole('gridcell', { name: '1', exact: true }).first().focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.getByRole('gridcell').nth(2)).toBeFocused();
});

test('a season of a mating place is corrected and kinship follows; one is taken back, and one under its queens', async ({
  page,
  server,
}) => {
  const queen = async (code: string, more: object = {}) =>
    (await does(server, 'record-queen', { queen: { code, emerged: '2025-06-01', ...more }, seen_on: '2027-05-01' })).id;
  const s = await queen('S-1');
  const m = await queen('M-1');
  const f = await queen('F-1', { dam: s, emerged: '2026-06-01' });
  const season = async (place: string, mother: string) =>
    (await does(server, 'record-mating-season', { place, year: 2026, sources: [{ queen: mother }] })).id;
  const valley = await season('Kesselgrund', m);
  await season('Slip of the pen', s);
  await does(server, 'record-natural-mating', { queen: f, season: valley, flew_from: '2026-06-10' });
  const d = await queen('D-1', { dam: f, emerged: '2026-08-01' });

  /** Relationship of the daughter with her grandmother S-1, as her leaf tells it. */
  const relatedToS = async (value: string) => {
    await page.goto(`${server.url}/stock/queen/${d}?today=2027-06-12`);
    const compare = page.getByRole('combobox', { name: 'Compare with' });
    await compare.fill('S-1');
    await page.getByRole('option', { name: /S-1/ }).click();
    await expect(page.getByRole('row', { name: `Relationship ${value}`, exact: true })).toBeVisible();
  };
  const list = page.getByRole('table', { name: 'Mating places' });
  const openSeason = async (place: string) => {
    await page.goto(`${server.url}/stock/places?today=2027-06-12`);
    await list.getByRole('link', { name: place }).click();
    await expect(page.getByRole('heading', { name: `${place}, 2026` })).toBeVisible();
  };
  await relatedToS('0.25');

  // By keyboard: E opens the form. M-1 never stood there, S-1 did; what that changes stands beside it before it is kept.
  await openSeason('Kesselgrund');
  await expect(page.getByRole('table', { name: 'Queens mated there' }).getByRole('row', { name: /F-1/ })).toBeVisible();
  await picture(page, 'mating-season');
  await expectAccessible(page);
  await page.keyboard.press('e');
  await page.getByRole('button', { name: 'Take M-1 out' }).press('Enter');
  const mothers = page.getByRole('combobox', { name: 'Drone mothers that stood there' });
  await mothers.fill('S-1');
  await page.getByRole('option', { name: /S-1/ }).click();
  await expect(page.getByRole('table', { name: 'What the correction changes' })).toContainText('0 → 0.25');
  await picture(page, 'mating-season-correct');
  await expectAccessible(page);
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await page.getByRole('button', { name: 'Keep the correction' }).press('Enter');
  await expect(
    page.getByText('Kesselgrund, 2026 is corrected. Kinship and worth of the queen mated there follow.'),
  ).toBeVisible();
  await expect(page.getByRole('definition').getByRole('link', { name: 'S-1' })).toBeVisible();
  // A daughter of F-1 and of drones of F-1’s own dam: three quarters (textbook, backcross to a parent).
  await relatedToS('0.75');

  // A slip of the pen, on which nothing rests, is taken back at once, and comes back with one step back.
  await openSeason('Slip of the pen');
  await expect(page.getByText('No queen is written down as mated there.')).toBeVisible();
  await page.getByRole('button', { name: 'Take this season back' }).press('Enter');
  await expect(page.getByText('Slip of the pen, 2026 is taken back.')).toBeVisible();
  await expect(list.getByRole('row')).toHaveCount(2);
  await page.keyboard.press('Control+z');
  await expect(list.getByRole('link', { name: 'Slip of the pen' })).toBeVisible();

  // A season queens rest on is refused, naming them; left alone it stands; taken back, they count as open mated.
  await openSeason('Kesselgrund');
  const takeBack = page.getByRole('button', { name: 'Take this season back' });
  await takeBack.click();
  await expect(page.getByRole('alert')).toContainText('F-1 is written down as mated there');
  await expect(page.getByRole('table', { name: 'What changes if it is taken back' })).toContainText('0.25 → 0');
  await picture(page, 'mating-season-refused');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Leave it' }).click();
  await expect(page.getByRole('alert')).toHaveCount(0);
  await takeBack.click();
  await page.getByRole('button', { name: 'Take it back all the same' }).click();
  await expect(page.getByText('The queen mated there now counts as open mated.')).toBeVisible();
  await expect(list.getByRole('link', { name: 'Kesselgrund' })).toHaveCount(0);
  await relatedToS('0.25');
});
