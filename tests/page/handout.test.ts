import { readFileSync } from 'node:fs';
import decodeQR from 'qr/decode.js';
import type { Page } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import { decodeLink, encodeLink } from '../../src/storage/link.ts';
import { newProject, PPQ, ticks, usualDrill, type Project } from '../../src/engine/index.ts';
import { colours, inkBox, pixelsOf, readPdf } from '../helpers/print.ts';
import { visit } from '../helpers/page.ts';

/** A4 as in ISO 216, Letter as in ANSI/ASME Y14.1, in millimetres. */
const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4] } as const;
const POINTS = 72 / 25.4;
const PX = 96 / 25.4;

/** A lesson of two drills over a two-beat change: our own. */
const LESSON: Project = newProject({
  title: 'Two beats, altered',
  text: '[A] | Dm7 | Em7 A7 | Dm7 G7 | Cmaj7 |\n[B] |: Fm7 | Bb7 |1. Cmaj7 | A7 :|2. Cmaj7 | % |]',
  layers: {
    placed: [
      {
        id: 't1',
        kind: 'altered',
        bar: 2,
        at: ticks(2 * PPQ),
        length: ticks(2 * PPQ),
        when: { type: 'always' },
      },
    ],
    rules: [],
  },
  loop: { bar: 2, at: ticks(0), length: ticks(8 * PPQ) },
  words: 'Sing the ninth before you play it.\nThen both fifths.',
  drills: [
    {
      id: 'd1',
      place: { bar: 2, at: ticks(2 * PPQ) },
      settings: usualDrill('thirds', 'chord'),
      printed: true,
    },
    { id: 'd2', place: null, settings: usualDrill('through', 'changes'), printed: true },
  ],
});

async function open(project: Project | null) {
  const path = project === null ? '' : `#${await encodeLink(project)}`;
  const opened = await visit({ locale: 'en-GB' }, path);
  const { page } = opened;
  await page.getByRole('button', { name: 'Files', exact: true }).click();
  await page.getByRole('button', { name: 'Look at it and print' }).click();
  await page.locator('.sheet').first().waitFor();
  const drills = project?.drills.length ?? 0;
  if (drills > 0)
    await page
      .locator('.system')
      .nth(drills - 1)
      .waitFor();
  await page.getByRole('img', { name: /as a code/ }).waitFor();
  return opened;
}

async function choose(page: Page, paper: string) {
  await page.getByRole('radio', { name: paper, exact: true }).check({ force: true });
  await page.getByRole('status').filter({ hasText: paper }).waitFor();
}

/** The pages as they are printed, side by side on the screen, twice as fine. */
async function asPrinted(page: Page, paper: keyof typeof PAPERS) {
  const [width, height] = PAPERS[paper];
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: Math.round(width * PX), height: Math.round(height * PX) });
  return page.locator('.sheet').all();
}

describe.each([
  ['the chart of a first visit', null],
  ['a lesson with two drills', LESSON],
] as const)('the handout of %s', (_, project) => {
  it.each(Object.keys(PAPERS) as (keyof typeof PAPERS)[])(
    'prints on one page or two of %s, in black and grey, with its faces',
    async (paper) => {
      const { page, complaints, close } = await open(project);
      await choose(page, paper);
      const printed = readPdf(await page.pdf({ preferCSSPageSize: true }));
      expect(printed.sizes.length).toBeGreaterThan(0);
      expect(printed.sizes.length).toBeLessThanOrEqual(2);
      expect(await page.locator('.sheet').count()).toBe(printed.sizes.length);
      for (const [width, height] of printed.sizes) {
        expect(width / POINTS).toBeCloseTo(PAPERS[paper][0], 0);
        expect(height / POINTS).toBeCloseTo(PAPERS[paper][1], 0);
      }
      expect(printed.drawing.length).toBeGreaterThan(1000);
      expect(colours(printed.drawing)).toEqual([]);
      expect(printed.missing).toBe(0);
      expect(printed.faces.length).toBeGreaterThan(1);
      for (const face of printed.faces) expect(face).toMatch(/EncodeSans|Bricolage|Vampwr(ight|Text)/);
      expect(printed.links.some((link) => link.startsWith(inject('site').address))).toBe(true);
      expect(complaints).toEqual([]);
      await close();
    },
  );

  it.each(Object.keys(PAPERS) as (keyof typeof PAPERS)[])(
    'keeps its margins on %s and cuts nothing off',
    async (paper) => {
      const { page, close } = await open(project);
      await choose(page, paper);
      const sheets = await asPrinted(page, paper);
      for (const sheet of sheets) {
        const pixels = await pixelsOf(page, await sheet.screenshot());
        const ink = inkBox(pixels);
        expect(ink).not.toBeNull();
        const margins = [ink!.left, ink!.top, pixels.width - 1 - ink!.right, pixels.height - 1 - ink!.bottom];
        // 15 mm is asked for; a line's edge and a code's white may be a pixel off.
        for (const margin of margins) expect(margin / PX).toBeGreaterThan(14);
      }
      expect(await page.evaluate(cutOff)).toEqual([]);
      await close();
    },
  );
});

/** What leaves the place it is drawn in: pieces their page, drawings their figure; and lines that are too thin. */
function cutOff(): string[] {
  const found: string[] = [];
  for (const area of document.querySelectorAll('.sheet .area')) {
    const around = area.getBoundingClientRect();
    for (const piece of area.children) {
      const { bottom, right } = piece.getBoundingClientRect();
      if (bottom > around.bottom + 0.5 || right > around.right + 0.5)
        found.push(`piece ${piece.textContent}`);
    }
    for (const figure of area.querySelectorAll<SVGSVGElement>('svg[role=img], .system > svg')) {
      const frame = figure.getBoundingClientRect();
      for (const text of figure.querySelectorAll('text')) {
        const box = text.getBoundingClientRect();
        if (box.width > 0 && (box.left < frame.left - 1 || box.right > frame.right + 1))
          found.push(`text ${text.textContent}`);
      }
    }
  }
  for (const line of document.querySelectorAll<SVGGraphicsElement>(
    '.sheet svg :is(path, rect, line, circle)',
  )) {
    const { stroke, strokeWidth } = getComputedStyle(line);
    const scale = line.getScreenCTM()!.a;
    if (stroke !== 'none' && stroke !== '' && parseFloat(strokeWidth) * scale < (0.3 * 96) / 25.4) {
      found.push(`a line of ${parseFloat(strokeWidth) * scale} px: ${line.outerHTML.slice(0, 120)}`);
    }
  }
  return found;
}

it('a phone reads the code on the paper, and finds the loop, the drills and the words as they were set', async () => {
  const { page, close } = await open(LESSON);
  await asPrinted(page, 'A4');
  const code = page.getByRole('img', { name: /as a code/ });
  const { width } = (await code.boundingBox())!;
  // The white around it is a tenth of it or so.
  expect(width / PX).toBeGreaterThan(28);
  const address = decodeQR(await pixelsOf(page, await code.screenshot()));
  expect(address.startsWith(inject('site').address)).toBe(true);
  const read = await decodeLink(new URL(address).hash);
  expect(read.ok && read.value.notices).toEqual([]);
  const project = read.ok ? read.value.project : newProject();
  expect(project).toEqual({ ...LESSON, id: project.id });
  await close();

  const { page: phone, close: done } = await visit({}, new URL(address).hash);
  expect(await phone.getByLabel('Title').inputValue()).toBe(LESSON.title);
  await done();
});

it('a figure saved as SVG needs nothing else: outlines for letters, in its printed size', async () => {
  const { page, complaints, close } = await open(LESSON);
  await page.getByText('Save a figure').click();
  const buttons = page.locator('details li button');
  const desk = await page.context().newPage();
  // Chart, five forms, two drills, code.
  expect(await buttons.count()).toBe(9);
  for (const button of await buttons.all()) {
    const [download] = await Promise.all([page.waitForEvent('download'), button.click()]);
    expect(download.suggestedFilename()).toMatch(/^Two beats altered - .+\.svg$/);
    const svg = readFileSync(await download.path(), 'utf8');
    expect(svg.match(NOT_ALONE)).toBeNull();
    expect(svg.slice(0, 200)).toMatch(/^<svg [^>]*width="[\d.]+mm" height="[\d.]+mm"/);
    expect(await desk.evaluate(wrongIn, svg)).toEqual([]);
    const drawn = await pixelsOf(desk, await alone(desk, svg));
    expect(inkBox(drawn)).not.toBeNull();
  }
  expect(complaints).toEqual([]);
  await close();
});

/** What a file would need of others. */
const NOT_ALONE = /<text|font-|<style|style=|class=|href|url\(|<script|currentColor|<image|foreignObject/;

/** What a reader of XML refuses in an SVG file, and paths that are none. */
function wrongIn(svg: string): string[] {
  const read = new DOMParser().parseFromString(svg, 'image/svg+xml');
  const wrong = [...read.querySelectorAll('parsererror')].map((error) => error.textContent);
  const number = String.raw`-?\d*\.?\d+(?:e-?\d+)?`;
  const counts: Record<string, number> = { m: 2, l: 2, q: 4, c: 6, h: 1, v: 1, z: 0, s: 4, a: 7, t: 2 };
  for (const path of read.querySelectorAll('path')) {
    for (const [, command, values] of path.getAttribute('d')!.matchAll(/([a-z])([^a-z]*)/gi)) {
      const count = (values!.match(new RegExp(number, 'g')) ?? []).length;
      const wanted = counts[command!.toLowerCase()]!;
      if (wanted === 0 ? count > 0 : count === 0 || count % wanted > 0) wrong.push(`${command}${values}`);
    }
  }
  return wrong;
}

/** A picture of an SVG file as another program shows it: as an image, which loads nothing. */
async function alone(page: Page, svg: string): Promise<Buffer> {
  const encoded = await page.evaluate(async (file) => {
    const image = new Image();
    image.src = `data:image/svg+xml,${encodeURIComponent(file)}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [image.width, image.height];
    canvas.getContext('2d')!.drawImage(image, 0, 0);
    return canvas.toDataURL().split(',')[1]!;
  }, svg);
  return Buffer.from(encoded, 'base64');
}
