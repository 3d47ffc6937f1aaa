import decodeQR from 'qr/decode.js';
import { expect, it } from 'vitest';
import { page } from 'vitest/browser';
import { render } from 'vitest-browser-svelte';
import Qr from '../../src/ui/controls/Qr.svelte';
import { codeOf, LONGEST_CODE } from '../../src/ui/controls/qr.ts';

/** What a camera would see of the code: its pixels, four for each square. */
async function seen(svg: Element): Promise<ImageData> {
  const size = Number(svg.getAttribute('viewBox')!.split(' ')[2]) * 4;
  const drawn = svg.cloneNode(true) as Element;
  drawn.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  drawn.setAttribute('width', String(size));
  drawn.setAttribute('height', String(size));
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(drawn.outerHTML)}`;
  await image.decode();
  const canvas = new OffscreenCanvas(size, size).getContext('2d')!;
  canvas.drawImage(image, 0, 0);
  return canvas.getImageData(0, 0, size, size);
}

it.each([60, 300, LONGEST_CODE])('a code of %i letters is read again from its picture', async (length) => {
  await page.viewport(800, 800);
  const text = `https://example.org/#1.${'aZ09-_'.repeat(200)}`.slice(0, length);
  const { container } = await render(Qr, { text, label: 'A link' });
  expect(decodeQR(await seen(container.querySelector('svg')!))).toBe(text);
});

it('a code has a quiet zone of four squares, and what is too long has none', () => {
  const code = codeOf('C7alt')!;
  const places = [...code.path.matchAll(/M(\d+) (\d+)h(\d+)/g)].map(([, x, y, run]) => [
    Number(x),
    Number(y),
    Number(x) + Number(run),
  ]);
  expect(Math.min(...places.flatMap(([x, y]) => [x!, y!]))).toBe(4);
  expect(Math.max(...places.map(([, , end]) => end!))).toBe(code.size - 4);
  expect(codeOf('é'.repeat(LONGEST_CODE / 2))).not.toBeNull();
  expect(codeOf('é'.repeat(LONGEST_CODE / 2 + 1))).toBeNull();
});
