import { describe, expect, it } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import reference from '../../shared/reference/tuning-frets.json' with { type: 'json' };
import { beats } from '../../src/engine/index.ts';
import { rangeFor } from '../../src/ui/neck/geometry.ts';
import { readNeck, USUAL_NECK, type NeckValues } from '../../src/ui/neck/settings.ts';
import type { PreferenceValues } from '../../src/ui/preferences.svelte.ts';
import { openPage } from './open.ts';

const CHANGES = 'Dm7 | G7alt | Cmaj7 | Cmaj7 |';

/** The page with the neck as asked for, and the tools to look at it. */
async function openNeck(
  neck: Partial<NeckValues> = {},
  others: Partial<PreferenceValues> = {},
  text = CHANGES,
) {
  const opened = await openPage(text);
  await page.viewport(1440, 900);
  const { session, player, screen } = opened;
  session.preferences.set({ ...others, neck: { ...USUAL_NECK, shown: true, ...neck } });
  const region = screen.getByRole('region', { name: neck.kind === 'keys' ? 'Keys' : 'Neck' });
  await expect.element(region).toBeInTheDocument();
  const svg = () => region.element().querySelector<SVGSVGElement>('.field svg')!;
  const notes = () => [...svg().querySelectorAll<SVGGElement>('.note')];
  /** Notes in full as "string:fret", in the order of the strings. */
  const places = (role = '') =>
    notes()
      .filter((note) => role === '' || note.dataset['role'] === role)
      .map((note) => note.dataset['key']!)
      .sort();
  const letters = (key: string) =>
    svg().querySelector(`[data-key="${key}"] text`)?.textContent.trim() ?? null;
  const middle = (element: Element) => {
    const { x, width } = element.getBoundingClientRect();
    return x + width / 2 - svg().getBoundingClientRect().x;
  };
  const wires = () => [...svg().querySelectorAll('.fret, .nut, .capo')].map(middle).sort((a, b) => a - b);
  const note = (key: string) => svg().querySelector<SVGGElement>(`[data-key="${key}"]`)!;
  /** The music is at a beat of the form. */
  const at = async (beat: number) => {
    if (!session.playing.on) await session.play();
    player.at = beats(beat);
    session.playing.look();
    await new Promise(requestAnimationFrame);
  };
  return { ...opened, region, svg, notes, places, letters, middle, wires, note, at };
}

describe('the neck is drawn', () => {
  it('with its frets where the published rule has them', async () => {
    const { wires } = await openNeck({ range: [0, 12] });
    const found = wires();
    expect(found).toHaveLength(13);
    const octave = found[12]! - found[0]!;
    for (const { fret, of_scale } of reference.frets.slice(0, 13)) {
      expect((found[fret]! - found[0]!) / octave, `fret ${fret}`).toBeCloseTo(of_scale * 2, 2);
    }
  });

  it('or evenly, where that is asked for', async () => {
    const { wires } = await openNeck({ range: [0, 12], frets: 'even' });
    const found = wires();
    const step = (found[12]! - found[0]!) / 12;
    found.forEach((x, fret) => expect(x).toBeCloseTo(found[0]! + fret * step, 0));
  });

  it('for the left hand as in a mirror', async () => {
    const right = await openNeck({ range: [0, 12] });
    const width = right.svg().clientWidth;
    const seen = new Map(
      right.places().map((key) => [key, right.middle(right.note(key).querySelector('.reach')!)]),
    );
    const rows = new Map(right.places().map((key) => [key, right.note(key).getBoundingClientRect().y]));
    right.session.preferences.set({ neck: { ...right.session.preferences.values.neck, hand: 'left' } });
    await new Promise(requestAnimationFrame);
    expect(right.places()).toEqual([...seen.keys()].sort());
    for (const [key, x] of seen) {
      expect(right.middle(right.note(key).querySelector('.reach')!), key).toBeCloseTo(width - x, 0);
      expect(right.note(key).getBoundingClientRect().y, key).toBeCloseTo(rows.get(key)!, 0);
    }
  });

  it('with a capo, under which nothing sounds and on which the strings are open', async () => {
    const { places, note, region } = await openNeck({ capo: 3 });
    const frets = places().map((key) => Number(key.split(':')[1]));
    expect(Math.min(...frets)).toBe(3);
    expect(note('6:3').getAttribute('aria-label')).toBe('open, G 11, tension');
    await expect.element(region.getByText('capo 3')).toBeInTheDocument();
  });

  it.each([
    [4, [28, 33, 38, 43]],
    [5, [23, 28, 33, 38, 43]],
    [7, [35, 40, 45, 50, 55, 59, 64]],
    [8, [30, 35, 40, 45, 50, 55, 59, 64]],
  ])('with %i strings, all in sight', async (count, tuning) => {
    const { svg, places } = await openNeck({ tuning });
    expect(svg().querySelectorAll('.string')).toHaveLength(count);
    expect(new Set(places().map((key) => key.split(':')[0])).size).toBe(count);
    const box = svg().getBoundingClientRect();
    for (const string of svg().querySelectorAll('.string')) {
      const { y } = string.getBoundingClientRect();
      expect(y).toBeGreaterThan(box.y);
      expect(y).toBeLessThan(box.bottom - 18);
    }
  });

  it('so that roots are squares and nothing else is', async () => {
    const { notes, places, at } = await openNeck();
    await at(4);
    expect(places('root')).toEqual(['1:15', '1:3', '2:8', '3:0', '3:12', '4:5', '5:10', '6:15', '6:3']);
    for (const note of notes()) {
      const squares = note.querySelectorAll('rect.solid').length;
      expect(squares, note.dataset['key']).toBe(note.dataset['role'] === 'root' ? 1 : 0);
    }
  });

  it('with letters that stay in their shape', async () => {
    const { notes, at } = await openNeck({}, { spelling: 'degree' }, 'Gb7alt | C#7alt |');
    for (const beat of [0, 4]) {
      await at(beat);
      for (const note of notes()) {
        const text = note.querySelector('text')!.getBBox();
        const shape = note.querySelector<SVGGraphicsElement>('.solid, .ground')!.getBBox();
        expect(text.width, note.textContent).toBeLessThanOrEqual(shape.width + 1);
      }
    }
  });
});

describe('the notes on the neck', () => {
  it('are named, numbered or fingered', async () => {
    const { letters, session, at } = await openNeck();
    const label = async (labels: NeckValues['labels'], form: NeckValues['form'] = null) => {
      session.preferences.set({ neck: { ...session.preferences.values.neck, labels, form } });
      await new Promise(requestAnimationFrame);
      return letters('6:4');
    };
    await at(4);
    expect(await label('names')).toBe('A♭');
    expect(await label('degrees')).toBe('♭9');
    expect(await label('fingers', { number: 1, firstFret: 1, lastFret: 5 })).toBe('4');
  });

  it('are those of the scale that sounds, or of the chord, or of the grip', async () => {
    const { places, session, at, notes } = await openNeck({ range: [0, 12] });
    await at(0);
    expect(places().filter((key) => key.startsWith('6:'))).toEqual(
      ['6:0', '6:1', '6:3', '6:5', '6:7', '6:8', '6:10', '6:12'].sort(),
    );
    session.preferences.set({ neck: { ...session.preferences.values.neck, notes: 'chord' } });
    await new Promise(requestAnimationFrame);
    expect(places().filter((key) => key.startsWith('6:'))).toEqual(['6:1', '6:5', '6:8', '6:10'].sort());
    session.preferences.set({ neck: { ...session.preferences.values.neck, grip: true } });
    await new Promise(requestAnimationFrame);
    const gripped = notes().filter((note) => note.querySelector('.lit') !== null);
    expect(gripped).toHaveLength(4);
    expect(new Set(gripped.map((note) => note.dataset['key']!.split(':')[0])).size).toBe(4);
  });

  it('follow the music, and what stays is not drawn anew', async () => {
    const { at, note, places, letters } = await openNeck();
    await at(0);
    const before = note('6:1');
    expect(places('root')).toContain('5:5');
    await at(4);
    expect(places('root')).toContain('6:3');
    expect(places('root')).not.toContain('5:5');
    // F is a guide tone of Dm7 and of G7alt.
    expect(note('6:1')).toBe(before);
    expect(letters('6:1')).toBe('F');
    await at(5);
    expect(note('6:1')).toBe(before);
  });

  it('show a beat ahead where they go', async () => {
    const { at, svg } = await openNeck({ form: { number: 2, firstFret: 4, lastFret: 8 } });
    const goals = () => svg().querySelectorAll('.goal').length;
    const ways = () => svg().querySelectorAll('.way').length;
    for (const beat of [4, 5, 6]) {
      await at(beat);
      expect(goals(), `beat ${beat}`).toBe(0);
    }
    await at(7);
    expect(goals()).toBeGreaterThan(3);
    expect(ways()).toBeGreaterThan(3);
    await at(8);
    expect(goals()).toBe(0);
    // Nothing changes from the third bar to the fourth.
    await at(11);
    expect(goals()).toBe(0);
  });

  it('are heard when they are pressed, by pointer and by keyboard', async () => {
    const { note, player, svg, session } = await openNeck();
    note('6:3').dispatchEvent(new MouseEvent('click', { bubbles: true }));
    expect(player.auditioned).toEqual([[43, 'guitar']]);
    expect(svg().querySelectorAll('[tabindex="0"]')).toHaveLength(1);
    svg().querySelector<SVGGElement>('[tabindex="0"]')!.focus();
    await userEvent.keyboard('{ArrowRight}{ArrowUp}{Enter}');
    expect(player.auditioned).toHaveLength(2);
    expect(player.auditioned[1]![0]).toBe(45);
    expect(document.activeElement?.getAttribute('data-key')).toBe('5:0');
    await userEvent.keyboard(' ');
    expect(player.auditioned).toHaveLength(3);
    expect(session.playing.on).toBe(false);
  });

  it('are told in words when asked, string by string, and never by themselves', async () => {
    const { region, at } = await openNeck({ form: { number: 2, firstFret: 4, lastFret: 8 } });
    await at(4);
    const words = region.element().querySelector('#neck-words')!;
    expect(words.textContent).toBe(
      'G altered, Form 2, 4th position. String 6, E: fret 4 A♭ ♭9, fret 6 A♯ ♯9, fret 7 B 3. ' +
        'String 5, A: fret 4 D♭ ♭5, fret 6 D♯ ♯5, fret 8 F ♭7. String 4, D: fret 5 G 1, fret 6 A♭ ♭9, fret 8 A♯ ♯9. ' +
        'String 3, G: fret 4 B 3, fret 6 D♭ ♭5. String 2, B: fret 4 D♯ ♯5, fret 6 F ♭7, fret 8 G 1. ' +
        'String 1, E: fret 4 A♭ ♭9, fret 6 A♯ ♯9, fret 7 B 3.',
    );
    expect(region.element().querySelectorAll('[aria-live]')).toHaveLength(0);
    expect(region.element().querySelector('[aria-describedby="neck-words"]')).not.toBeNull();
  });
});

describe('a form', () => {
  it('is stepped to by key, up and down the neck, and let go', async () => {
    const { region, at, places } = await openNeck();
    await at(4);
    const whole = places().length;
    await userEvent.keyboard('.');
    await expect.element(region.getByText('Form 1', { exact: true })).toBeInTheDocument();
    expect(places().length).toBeLessThan(25);
    await userEvent.keyboard('.');
    await expect.element(region.getByText('Form 2', { exact: true })).toBeInTheDocument();
    await userEvent.keyboard(',');
    await expect.element(region.getByText('Form 1', { exact: true })).toBeInTheDocument();
    await userEvent.keyboard('x');
    await expect.element(region.getByText('All notes')).toBeInTheDocument();
    expect(places()).toHaveLength(whole);
    await userEvent.keyboard('x');
    await expect.element(region.getByText('Form 1', { exact: true })).toBeInTheDocument();
  });

  it('keeps its place on the neck when the chord changes', async () => {
    const { at, places } = await openNeck({ form: { number: 2, firstFret: 4, lastFret: 8 } });
    for (const beat of [0, 4, 8]) {
      await at(beat);
      const frets = places().map((key) => Number(key.split(':')[1]));
      expect(Math.min(...frets), `beat ${beat}`).toBeGreaterThanOrEqual(3);
      expect(Math.max(...frets), `beat ${beat}`).toBeLessThanOrEqual(10);
    }
  });

  it('or its number, from another root', async () => {
    const { at, region } = await openNeck({
      form: { number: 2, firstFret: 4, lastFret: 8 },
      keeps: 'number',
    });
    for (const beat of [0, 4, 8]) {
      await at(beat);
      await expect.element(region.getByText('Form 2', { exact: true })).toBeInTheDocument();
    }
  });
});

describe('the keys', () => {
  it('show the same notes, and what the band strikes', async () => {
    const { notes, svg, at, player } = await openNeck({ kind: 'keys', grip: true });
    await at(5);
    expect(notes().length).toBeGreaterThan(14);
    const pcs = new Set(notes().map((note) => Number(note.dataset['key']) % 12));
    expect([...pcs].sort((a, b) => a - b)).toEqual([1, 3, 5, 7, 8, 10, 11]);
    expect(svg().querySelectorAll('.white.lit, .black.lit').length).toBe(4);
    notes()[0]!.dispatchEvent(new MouseEvent('click', { bubbles: true }));
    expect(player.auditioned[0]?.[1]).toBe('piano');
  });
});

describe('names for a transposing instrument', () => {
  it('stand on the stage, in the ribbon and on the neck; the text stays as typed', async () => {
    const { screen, session, letters, at, beat } = await openNeck({}, { written: 'b-flat' });
    await at(4);
    const stage = screen.getByRole('region', { name: 'Now' });
    await expect.element(stage.getByText('A7alt').first()).toBeInTheDocument();
    await expect.element(stage.getByText(/^A altered/)).toHaveTextContent('for B♭ instrument');
    await expect.element(beat(/^bar 2, beat 1, A7alt, .*A altered scale/)).toBeInTheDocument();
    expect(letters('6:3')).toBe('A');
    expect(session.text).toBe(CHANGES);
    await expect.element(screen.getByLabelText('Chart as text')).toHaveValue(CHANGES);
    await expect.element(screen.getByText(/The text is at concert pitch/)).toBeInTheDocument();
  });
});

describe('what is kept of the neck', () => {
  it('is made good where it cannot be', () => {
    expect(readNeck(null)).toEqual(USUAL_NECK);
    expect(
      readNeck({ tuning: [1, 2], capo: 99, hand: 'third', range: [9, 3], form: 7, kind: 'keys' }),
    ).toEqual({
      ...USUAL_NECK,
      kind: 'keys',
    });
    const own = { ...USUAL_NECK, tuning: [28, 33, 38, 43], capo: 2, range: [2, 9] as const, string: 4 };
    expect(readNeck(own)).toEqual(own);
    expect(readNeck({ ...own, string: 5 }).string).toBe(1);
  });
});

describe('the frets that are shown', () => {
  const form = { firstFret: 4, lastFret: 8 };

  it('are as many as there is room for, and on a phone those around the form', () => {
    expect(rangeFor(1400, 0, false, null, null, 24)).toEqual([0, 15]);
    expect(rangeFor(1400, 0, false, null, form, 24)).toEqual([0, 15]);
    expect(rangeFor(340, 0, false, null, form, 24)).toEqual([3, 9]);
    expect(rangeFor(340, 0, false, null, null, 24)[0]).toBe(0);
    expect(rangeFor(340, 0, false, null, null, 24)[1]).toBeLessThan(12);
  });

  it('are those the player asks for, from the capo on', () => {
    expect(rangeFor(340, 0, false, [5, 17], form, 24)).toEqual([5, 17]);
    expect(rangeFor(340, 7, false, [5, 17], null, 24)).toEqual([7, 17]);
  });
});
