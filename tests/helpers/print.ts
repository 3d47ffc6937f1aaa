import { inflateSync } from 'node:zlib';
import type { Page } from 'playwright-core';

/** Pages of a PDF, each with its size in points, and everything drawn on them. */
export interface Printed {
  /** Width and height of each page, points of 1/72 inch. */
  readonly sizes: readonly (readonly [number, number])[];
  /** The drawing operators of all pages and forms. */
  readonly drawing: string;
  /** Addresses that can be pressed. */
  readonly links: readonly string[];
  /** The names of its typefaces. */
  readonly faces: readonly string[];
  /** Fonts that are neither drawn in the file nor came along as one. */
  readonly missing: number;
}

/** Reads as much of a PDF as Chromium writes plainly: its objects, and its streams inflated (ISO 32000-1, 7.3.8). */
export function readPdf(pdf: Buffer): Printed {
  const text = pdf.toString('latin1');
  const drawn: string[] = [];
  for (const match of text.matchAll(/<<([^>]*(?:<<[^>]*>>[^>]*)*)>>\s*stream\r?\n/g)) {
    if (!match[1]!.includes('FlateDecode') || /FontFile|Length1|XML|ObjStm|XRef/.test(match[1]!)) continue;
    const from = match.index + match[0].length;
    const length = Number(/\/Length (\d+)/.exec(match[1]!)?.[1]);
    drawn.push(inflateSync(pdf.subarray(from, from + length)).toString('latin1'));
  }
  const boxes = [...text.matchAll(/\/Type \/Page\b[^]*?\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
  return {
    sizes: boxes.map(([, width, height]) => [Number(width), Number(height)]),
    drawing: drawn.join('\n'),
    links: [...text.matchAll(/\/URI \(([^)]*)\)/g)].map(([, address]) => address!),
    faces: [...new Set([...text.matchAll(/\/FontName \/(?:[A-Z]{6}\+)?([\w-]+)/g)].map(([, name]) => name!))],
    missing:
      [...text.matchAll(/\/Subtype \/(?:Type1|TrueType|CIDFontType[02])\b/g)].length -
      [...text.matchAll(/\/FontFile[23]? \d+/g)].length,
  };
}

/** The colours that are set in a drawing and are no grey. */
export const colours = (drawing: string): readonly string[] =>
  [...drawing.matchAll(/(?:^|\s)([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG|scn?|SCN?)\b/g)]
    .filter(([, red, green, blue]) => red !== green || green !== blue)
    .map(([whole]) => whole.trim());

/** A picture's pixels, as RGBA. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

/** The pixels of a PNG, as the browser of a page reads them. */
export async function pixelsOf(page: Page, png: Buffer): Promise<Pixels> {
  const { width, height, data } = await page.evaluate(async (encoded) => {
    const bytes = Uint8Array.from(atob(encoded), (sign) => sign.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
    canvas.drawImage(image, 0, 0);
    const { data: seen } = canvas.getImageData(0, 0, image.width, image.height);
    let binary = '';
    for (let i = 0; i < seen.length; i += 0x8000)
      binary += String.fromCharCode(...seen.subarray(i, i + 0x8000));
    return { width: image.width, height: image.height, data: btoa(binary) };
  }, png.toString('base64'));
  return { width, height, data: new Uint8ClampedArray(Buffer.from(data, 'base64')) };
}

/** The box of everything that is not white, px; null where all is. */
export function inkBox({
  width,
  height,
  data,
}: Pixels): { left: number; top: number; right: number; bottom: number } | null {
  let [left, top, right, bottom] = [width, height, -1, -1];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      if (data[(y * width + x) * 4]! > 250) continue;
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y);
    }
  return right < 0 ? null : { left, top, right, bottom };
}
