import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { build, serve } from '../../src/tools/site.mjs';
import { openFirefox, openWebKit, silentSoundCard } from '../helpers/other-browsers.ts';

const folder = mkdtempSync(join(tmpdir(), 'vampwright-'));
let address = '';
let endAll: readonly (() => Promise<void>)[] = [];

beforeAll(async () => {
  await build(folder);
  const site = await serve(folder);
  address = site.address;
  endAll = [site.close, await silentSoundCard()];
}, 300_000);

afterAll(async () => {
  for (const end of endAll) await end();
  rmSync(folder, { recursive: true });
});

/** Gathers what goes wrong, and the loudest sample of each sound file that is saved. */
const LISTEN = `(() => {
  window.wrong = [];
  window.saved = [];
  addEventListener('error', ({ message }) => wrong.push(message));
  addEventListener('unhandledrejection', ({ reason }) => wrong.push(String(reason)));
  const make = URL.createObjectURL;
  URL.createObjectURL = (blob) => {
    if (blob.type === 'audio/wav') {
      blob.arrayBuffer().then((file) => new OfflineAudioContext(2, 1, 48000).decodeAudioData(file)).then((sound) => {
        const loudest = sound.getChannelData(0).reduce((most, x) => Math.max(most, Math.abs(x)), 0);
        saved.push({ seconds: sound.duration, loudest });
      });
    }
    return make.call(URL, blob);
  };
  return null;
})()`;

/** Presses the button, link or fold whose words begin so. */
const press = (words: string) => `(() => {
  const named = (one) => (one.getAttribute('aria-label') ?? one.textContent).trim().startsWith('${words}');
  const found = [...document.querySelectorAll('button, summary')].find((one) => one.checkVisibility() && named(one));
  found?.click();
  return found !== undefined;
})()`;

describe.each([
  ['Firefox', openFirefox],
  ['WebKit', openWebKit],
])('in %s', (_, open) => {
  it('the band plays what is typed, alters it by a key, and saves its sound', async () => {
    const browser = await open();
    onTestFinished(() => browser.close());
    const reads = (selector: string) => browser.ask(`document.querySelector('${selector}')?.innerText ?? ''`);
    const within = { timeout: 60_000, interval: 500 };
    await browser.open(address);
    await expect.poll(() => browser.ask(`document.querySelector('#shell') === null`), within).toBe(true);
    await browser.ask(LISTEN);

    await browser.press(' ');
    await expect.poll(() => reads('.stage'), within).toMatch(/Bar 2, round 1/);
    await browser.press('a');
    await expect.poll(() => reads('.ribbon'), within).toMatch(/\baltered\b(?! as written)/);
    await browser.press(' ');
    await expect.poll(() => reads('.stage'), within).not.toMatch(/round/);

    for (const words of ['Files', 'Sound file', 'Save as WAV']) {
      await expect.poll(() => browser.ask(press(words)), within).toBe(true);
    }
    await expect.poll(() => browser.ask('saved.length'), { ...within, timeout: 300_000 }).toBe(1);
    const [sound] = (await browser.ask('saved')) as { seconds: number; loudest: number }[];
    expect(sound!.seconds).toBeGreaterThan(10);
    expect(sound!.loudest).toBeGreaterThan(0.1);
    expect(sound!.loudest).toBeLessThanOrEqual(10 ** (-1 / 20));
    expect(await browser.ask('wrong')).toEqual([]);
  });
});
