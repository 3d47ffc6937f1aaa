import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { measure } from '../helpers/ffmpeg.ts';
import { visit, type Visit } from '../helpers/page.ts';

/** What the page says of its sound files: LUFS and dB. */
const TARGET = -16;
const CEILING = -1;

const folder = mkdtempSync(join(tmpdir(), 'vampwright-sound-'));
let open: Visit;
beforeAll(async () => {
  open = await visit();
  await files(open.page);
});
afterAll(async () => {
  await open.close();
  rmSync(folder, { recursive: true });
});

async function files(page: Page) {
  await page.getByRole('button', { name: 'Files', exact: true }).click();
  await page.getByRole('heading', { name: 'Sound file' }).click();
}

async function choose(page: Page, title: string) {
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await page.getByRole('searchbox', { name: 'Find a chart' }).fill(title);
  await page.getByRole('button', { name: new RegExp(`^${title}`) }).click();
  await files(page);
}

async function rounds(page: Page, count: number) {
  const stepper = page.getByRole('group', { name: /^Rounds/ });
  const now = async () => Number(await stepper.getByRole('status').innerText());
  while ((await now()) > count) await stepper.getByRole('button', { name: /less$/ }).click();
  while ((await now()) < count) await stepper.getByRole('button', { name: /more$/ }).click();
}

async function keep(download: Download) {
  const path = join(folder, download.suggestedFilename());
  await download.saveAs(path);
  return path;
}

async function save(page: Page) {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: /^Save as (WAV|\.)/ }).click(),
  ]);
  return keep(download);
}

describe('a sound file, measured from outside', () => {
  it.each([
    ['Altered vamp in C', 8],
    ['Ballad', 1],
    ['Bossa', 1],
    ['Jazz waltz', 1],
    ['Shuffle blues', 1],
    ['Twelve-bar blues', 2],
  ])('of %s is as loud as is said, and no peak is higher', async (title, count) => {
    const { page } = open;
    await choose(page, title);
    await rounds(page, count);
    const { loudness, truePeak, stream, length } = measure(await save(page));
    console.log(`${title}: ${loudness} LUFS, true peak ${truePeak} dB, ${length} s`);
    expect(stream).toContain('44100 Hz, stereo');
    expect(stream).toContain('pcm_s16le');
    expect(length).toBeGreaterThan(10);
    expect(Math.abs(loudness - TARGET)).toBeLessThan(1);
    expect(truePeak).toBeLessThan(CEILING);
  });

  it('is as loud and as long where the browser compresses it, a tenth of the size, with its title in it', async () => {
    const { page } = open;
    await choose(page, 'Twelve-bar blues');
    await rounds(page, 1);
    const wav = await save(page);
    await page.getByRole('radio', { name: /^Small/ }).check({ force: true });
    const small = await save(page);
    const [whole, heard] = [measure(wav), measure(small)];
    console.log(
      `${small.split('.').at(-1)}: ${heard.loudness} LUFS, true peak ${heard.truePeak} dB, ${heard.length} s`,
    );
    expect(heard.stream).toMatch(/(opus|aac).*48000 Hz, stereo/);
    expect(Math.abs(heard.length - whole.length)).toBeLessThan(0.05);
    expect(Math.abs(heard.loudness - whole.loudness)).toBeLessThan(0.5);
    // What a codec leaves out may lift a peak by a part of a decibel; none is clipped.
    expect(heard.truePeak).toBeLessThan(0);
    expect(statSync(small).size).toBeLessThan(statSync(wav).size / 7);
    expect(heard.told).toContain('Twelve-bar blues');
    await page.getByRole('radio', { name: /^WAV/ }).check({ force: true });
  });

  it('is as loud in 24 bit and in float at 48 kHz', async () => {
    const { page } = open;
    await page.getByRole('combobox', { name: 'Rate' }).selectOption('48 kHz');
    await rounds(page, 1);
    for (const [depth, codec] of [
      ['24 bit', 'pcm_s24le'],
      ['32 bit, float', 'pcm_f32le'],
    ] as const) {
      await page.getByRole('combobox', { name: 'Samples' }).selectOption(depth);
      const { loudness, truePeak, stream } = measure(await save(page));
      expect(stream).toContain(codec);
      expect(stream).toContain('48000 Hz, stereo');
      expect(Math.abs(loudness - TARGET)).toBeLessThan(1);
      expect(truePeak).toBeLessThan(CEILING);
    }
  });

  it('of each part is below the ceiling too, all of one length', async () => {
    const { page } = open;
    const downloads: Download[] = [];
    page.on('download', (download) => downloads.push(download));
    await page.getByRole('checkbox', { name: 'A file for each part' }).check();
    await page.getByRole('button', { name: 'Save as WAV' }).click();
    await page.getByText('The sound files are saved.').waitFor();
    await expect.poll(() => downloads.length).toBe(4);
    const files = await Promise.all(downloads.map(keep));
    expect(files.map((file) => / - (\w+)\.wav$/.exec(file)?.[1])).toEqual([
      'comping',
      'bass',
      'drums',
      'click',
    ]);
    const all = files.map(measure);
    expect(new Set(all.map(({ length }) => length)).size).toBe(1);
    for (const { loudness, truePeak } of all) {
      expect(truePeak).toBeLessThan(CEILING);
      expect(loudness).toBeLessThan(TARGET + 1);
    }
  });

  it('can be called off, and another saved after it', async () => {
    const { page, complaints } = open;
    await page.getByRole('checkbox', { name: 'A file for each part' }).uncheck();
    await rounds(page, 20);
    await page.getByRole('button', { name: 'Save as WAV' }).click();
    await page.getByRole('progressbar', { name: 'Making the sound file' }).waitFor();
    await page.getByRole('button', { name: 'Cancel', exact: true }).click();
    await rounds(page, 1);
    expect(measure(await save(page)).length).toBeGreaterThan(5);
    expect(complaints).toEqual([]);
  });
});
