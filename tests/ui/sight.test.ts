import { describe, expect, it } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { beats } from '../../src/engine/index.ts';
import { openPage, openSheet } from './open.ts';

const TWO_FIVE = 'Dm7 G7 | Cmaj7 | Em7b5 A7 | Dm7';

/** A page on a phone that stands upright. */
async function onPhone(text: string) {
  const opened = await openPage(text);
  await page.viewport(360, 740);
  const all = (selector: string) => [...opened.screen.container.querySelectorAll<HTMLElement>(selector)];
  return { ...opened, all };
}

/** Those of which something is cut off. */
const cutOff = (all: readonly HTMLElement[]) =>
  all
    .filter((one) => one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1)
    .map(({ textContent }) => textContent.trim());

const top = (one: Element | undefined) => one?.getBoundingClientRect().top ?? NaN;
const bottom = (one: Element | undefined) => one?.getBoundingClientRect().bottom ?? NaN;

describe('on a phone', () => {
  it('what to do first is read to its end', async () => {
    const { screen, all } = await onPhone('C7alt');
    await expect.element(screen.getByText('Press Play or the space bar')).toBeVisible();
    await expect.poll(() => cutOff(all('.stage .next'))).toEqual([]);
  });

  it('what an empty field asks for is read by day and by night', async () => {
    const opened = await openPage('');
    await openSheet(opened, 'Text');
    const { screen, session } = opened;
    const title = screen.getByLabelText('Title', { exact: true });
    await title.fill('');
    for (const theme of ['day', 'night'] as const) {
      session.preferences.set({ theme });
      const colour = () => getComputedStyle(title.element(), '::placeholder').color;
      const soft = () => getComputedStyle(screen.container.querySelector('#panel .title span')!).color;
      await expect.poll(() => colour() === soft()).toBe(true);
    }
  });

  it('guide tones are read whole in the stand view, since a letter cut off is another note', async () => {
    const { session, all } = await onPhone('Ebm7 | Ab7 | Dbmaj7 | Bb7');
    session.preferences.set({ targets: true });
    await userEvent.keyboard('s');
    await expect.poll(() => all('.stage.large .guides li').length).toBe(2);
    await expect.poll(() => cutOff(all('.stage .next'))).toEqual([]);
  });

  it('a scale with no room for its notes has two lines for its name', async () => {
    const { all } = await onPhone(TWO_FIVE);
    const alone = () => all('.scale .name').filter((name) => name.nextElementSibling === null);
    await expect.poll(() => alone().length).toBeGreaterThanOrEqual(2);
    await expect.poll(() => cutOff(alone())).toEqual([]);
  });

  it('the lane says how to alter a dominant, and no bar line goes through the words', async () => {
    const { all } = await onPhone(TWO_FIVE);
    await expect.poll(() => all('.lane .hint').length).toBe(1);
    await expect.poll(() => cutOff(all('.lane .hint'))).toEqual([]);
    const bar = all('.line .bar')[0]!.getBoundingClientRect();
    expect(all('.lane .hint')[0]!.getBoundingClientRect().right).toBeLessThanOrEqual(bar.right + 1);
  });

  it('a word that is said lies beneath an open sheet, and over what sounds where none is open', async () => {
    const opened = await onPhone(TWO_FIVE);
    const { session, all } = opened;
    const main = () => all('main')[0]!.getBoundingClientRect().height;
    await openSheet(opened, 'Help');
    const [height, end] = [main(), bottom(all('.panel')[0])];
    session.say('Twelve-bar blues in F is open. The first change makes it your own.', true);
    await expect.poll(() => all('.word p').length).toBe(1);
    await expect.poll(() => bottom(all('.panel')[0])).toBeLessThanOrEqual(top(all('.word p')[0]));
    expect(main()).toBe(height);
    session.notice = null;
    await expect.poll(() => bottom(all('.panel')[0])).toBe(end);
  });

  it('a tray is scrolled to its end, and nothing in it lies over something else', async () => {
    const { session, screen, all, beat } = await onPhone(TWO_FIVE);
    session.place({ from: beats(2), to: beats(4) }, 'altered');
    (beat(/^bar 1, beat 3/).element() as HTMLElement).focus();
    await userEvent.keyboard('t');
    await expect.element(screen.getByRole('dialog', { name: 'Treatment in bar 1' })).toBeVisible();
    const tray = all('.tray')[0]!;
    const done = () => screen.getByRole('button', { name: 'Done' }).element();
    const more = () => screen.getByRole('button', { name: 'For: more' }).element();
    expect(tray.scrollHeight).toBeGreaterThan(tray.clientHeight);
    for (const end of [0, tray.scrollHeight]) {
      tray.scrollTop = end;
      expect(top(done())).toBeGreaterThanOrEqual(bottom(more()));
    }
    expect(bottom(done())).toBeLessThanOrEqual(bottom(tray));
  });
});

describe('on a phone, in the ribbon', () => {
  const SLASHES = '| Ebm7b5/Gb Ab7(b9,#9)/Gb F#maj7/A# Bm(maj7)/D | Cmaj7/E |';

  it('four chords with a bass of their own in one bar are read, and none lies over the next', async () => {
    const { all } = await onPhone(SLASHES);
    const symbols = () => all('.line .chord .symbol').map((one) => one.getBoundingClientRect());
    await expect.poll(() => symbols().length).toBe(5);
    for (const [i, { right }] of symbols().slice(0, 3).entries())
      expect(right).toBeLessThan(symbols()[i + 1]!.left);
    for (const one of all('.line .chord .symbol'))
      expect(parseFloat(getComputedStyle(one).fontSize)).toBeGreaterThanOrEqual(14);
  });

  it('the name of a scale is read whole, in a bar of its own and where four share one', async () => {
    const { session, all } = await onPhone(`${SLASHES} G7b9 | C | Bdim7 | D7 |`);
    const names = () => all('.line .scale .name');
    await expect
      .poll(() => names().map(({ textContent }) => textContent))
      .toContain('G half-whole diminished');
    await expect.poll(() => cutOff(names())).toEqual([]);
    session.type('| G7b9 | C | Bdim7 | D7 |');
    await expect.poll(() => names().map(({ textContent }) => textContent)).toContain('C major');
    await expect.poll(() => cutOff(names())).toEqual([]);
    for (const name of names())
      expect(name.scrollWidth).toBeLessThanOrEqual(name.parentElement!.clientWidth - 15);
  });

  it('a line is seen whole at the stand beside the neck, with what every chord does and what moves', async () => {
    const { session, all } = await onPhone(TWO_FIVE);
    const inSight = () => {
      const end = bottom(all('.ribbon[role=grid]')[0]);
      return all('.line')[0]!.getBoundingClientRect().bottom <= end;
    };
    await userEvent.keyboard('sk');
    await expect.poll(() => all('.stage.large').length).toBe(1);
    await expect.poll(inSight).toBe(true);
    expect(all('.line .scale .name').length).toBeGreaterThan(0);
    session.preferences.set({ functions: true, targets: true });
    await expect.poll(() => all('.line .function').length).toBeGreaterThan(0);
    await expect.poll(inSight).toBe(true);
    await userEvent.keyboard('k');
    await expect.poll(() => all('.line .targets').length).toBeGreaterThan(0);
    await expect.poll(inSight).toBe(true);
  });
});

describe('in the last line, which is shorter than the others', () => {
  it('a treatment lies under its own bar, from its first beat to its last', async () => {
    const { all } = await onPhone('Dm7 | G7 | C7alt');
    await expect.poll(() => all('.line .band').length).toBe(1);
    const [band, bar] = [all('.line .band')[0]!, all('.line .bar')[2]!].map((one) =>
      one.getBoundingClientRect(),
    );
    expect(band!.left).toBeCloseTo(bar!.left, 0);
    expect(band!.right).toBeCloseTo(bar!.right, 0);
  });
});

describe('with letters half as large again, on a phone', () => {
  it('everything that is pressed is on the page, and nothing lies over something else', async () => {
    const root = document.documentElement;
    root.style.fontSize = '24px';
    try {
      const { screen, session, all } = await onPhone(TWO_FIVE);
      const pressed = () =>
        all('header button, .dock button').filter((one) => one.checkVisibility({ opacityProperty: true }));
      const beyond = () =>
        pressed()
          .filter((one) => one.getBoundingClientRect().right > innerWidth || cutOff([one]).length > 0)
          .map(({ textContent, ariaLabel }) => ariaLabel ?? textContent.trim());
      const covered = () =>
        pressed()
          .filter((one) => {
            const { x, y, width, height } = one.getBoundingClientRect();
            const there = document.elementFromPoint(x + width / 2, y + height / 2);
            return there === null || !(one.contains(there) || there.contains(one));
          })
          .map(({ textContent, ariaLabel }) => ariaLabel ?? textContent.trim());
      await expect.poll(beyond).toEqual([]);
      await expect.poll(covered).toEqual([]);
      session.setLoop({ from: beats(2), to: beats(4) });
      await screen.getByRole('button', { name: 'Play', exact: true }).click();
      await expect.element(screen.getByRole('button', { name: 'Stop', exact: true })).toBeVisible();
      await expect.poll(beyond).toEqual([]);
      await expect.poll(covered).toEqual([]);
      session.playing.stop();
    } finally {
      root.style.removeProperty('font-size');
    }
  });
});

describe('with letters half as large again, at the stand', () => {
  it('the chord is read beside the neck, and the neck is whole', async () => {
    const root = document.documentElement;
    root.style.fontSize = '24px';
    try {
      const { session, all } = await onPhone(TWO_FIVE);
      await userEvent.keyboard('sk');
      await expect.poll(() => all('.neck svg[role]').length).toBeGreaterThan(0);
      const size = () => parseFloat(getComputedStyle(all('.now .symbol')[0]!).fontSize);
      await expect.poll(size).toBeGreaterThanOrEqual(48);
      const end = top(all('.dock')[0]);
      await expect.poll(() => bottom(all('.neck')[0])).toBeLessThanOrEqual(end + 1);
      expect(bottom(all('.now .symbol')[0])).toBeLessThanOrEqual(bottom(all('.stage.large')[0]));
      await userEvent.keyboard('k');
      session.preferences.set({ functions: true, targets: true });
      await expect.poll(size).toBeGreaterThanOrEqual(48);
    } finally {
      root.style.removeProperty('font-size');
    }
  });
});

describe('on a tablet in a stand', () => {
  it('the next chord is larger than what moves where, and all of it is whole', async () => {
    const { session, all } = await onPhone('Ebm7b5/Gb | Ab7(b9,#9)/Gb | Dbmaj7 | Bb7');
    await page.viewport(820, 1180);
    session.preferences.set({ targets: true });
    await userEvent.keyboard('sk');
    await expect.poll(() => all('.stage.large .guides li').length).toBe(2);
    const size = (selector: string) => parseFloat(getComputedStyle(all(selector)[0]!).fontSize);
    await expect.poll(() => size('.next .symbol')).toBeGreaterThan(size('.guides'));
    expect(cutOff(all('.stage .next'))).toEqual([]);
  });

  it('where no chord is written yet, that is said', async () => {
    const { screen } = await openPage('');
    await page.viewport(820, 1180);
    await expect.element(screen.getByText('No chord yet')).toBeVisible();
  });
});

describe('on a phone that lies in a stand', () => {
  it('the chord is read from afar: it is at least twice as high as the notes of its scale', async () => {
    const { all } = await onPhone(TWO_FIVE);
    await page.viewport(740, 360);
    await userEvent.keyboard('s');
    await expect.poll(() => all('.stage.large').length).toBe(1);
    const height = (selector: string) => all(selector)[0]!.getBoundingClientRect().height;
    await expect.poll(() => height('.now .symbol') / height('.scale .note')).toBeGreaterThanOrEqual(2);
  });
});
