import { describe, expect, it } from 'vitest';
import { page } from 'vitest/browser';
import { PPQ, readText, ticks, type PlacedTreatment } from '../../src/engine/index.ts';
import { lanesOf } from '../../src/ui/handout/chart/heights.ts';
import { rowsOf } from '../../src/ui/handout/chart/rows.ts';
import { colouredStretches, loopedStretches } from '../../src/ui/handout/chart/stretches.ts';
import { leaveOut, paginate, type Leaf, type Piece } from '../../src/ui/handout/flow.ts';
import { fretsOf } from '../../src/ui/handout/forms.ts';
import { usualPaper } from '../../src/ui/handout/paper.ts';
import { decodeLink, encodeLink, readProject, writeProject } from '../../src/storage/index.ts';
import { complaints, overflowing } from './everybody.ts';
import { openPage, openSheet } from './open.ts';

const piece = (id: string, of: Leaf, keeps = false): Piece => ({ id, of, gap: 10, keeps });

describe('pages', () => {
  const heights: Readonly<Record<string, number>> = { title: 40, chart: 60, heading: 10, forms: 80 };
  const pieces = [
    piece('title', 'title'),
    piece('chart', 'chart'),
    piece('heading', 'forms', true),
    piece('forms', 'forms'),
  ];
  const height = (id: string) => heights[id] ?? 0;

  it('hold what there is room for, a heading beside what it heads', () => {
    expect(paginate(pieces, height, 220)).toEqual([['title', 'chart', 'heading', 'forms']]);
    // 40 + 10 + 60 + 10 + 10 leave no room for the forms: their heading goes with them.
    expect(paginate(pieces, height, 130)).toEqual([
      ['title', 'chart'],
      ['heading', 'forms'],
    ]);
  });

  it('cut what is longer than a page where it may be cut', () => {
    expect(paginate(pieces, height, 85)).toEqual([['title'], ['chart', 'heading'], ['forms']]);
  });

  it('say what to leave out when there are more than two, the least missed first', () => {
    const drills = ['a', 'b'].map((id) => piece(`drill ${id}`, `drill ${id}`));
    const all = [...pieces, piece('scales', 'scales'), ...drills];
    const tall = (id: string) => (id.startsWith('drill') || id === 'scales' ? 70 : height(id));
    expect(leaveOut(all, tall, 400)).toEqual([]);
    expect(leaveOut(all, tall, 225)).toEqual(['scales']);
    expect(leaveOut(all, tall, 120)).toEqual(['scales', 'drill b', 'drill a']);
    expect(
      paginate(
        all.filter(({ of }) => of !== 'scales'),
        tall,
        225,
      ),
    ).toHaveLength(2);
  });
});

describe('the chart on paper', () => {
  const reading = readText('[A] | Dm7 | G7 | C | % |: Am7 | D7 / / / |1. G7 | C :|2. G7 |\n[B] | F |]');
  const placed = (set: Partial<PlacedTreatment>): PlacedTreatment => ({
    id: 't',
    kind: 'altered',
    bar: 1,
    at: ticks(2 * PPQ),
    length: ticks(2 * PPQ),
    when: { type: 'always' },
    ...set,
  });
  const nameOf = ({ text }: { text: string }) => text;
  const coloured = (...items: PlacedTreatment[]) =>
    colouredStretches({ reading, layers: { placed: items, rules: [] }, seed: 1, nameOf });

  it('has rows of four bars, and a rehearsal mark begins one', () => {
    const rows = rowsOf(reading.chart.bars, { coloured: [], looped: [], hits: [] }, 680);
    expect(rows.map(({ bars }) => bars.map(({ bar }) => bar.index))).toEqual([
      [0, 1, 2, 3],
      [4, 5, 6, 7],
      [8],
      [9],
    ]);
    expect(rows[1]!.bars.map(({ end }) => end)).toEqual(['line', 'line', 'line', 'repeat']);
    expect(rows[1]!.bars[2]!.ending).toEqual({ passes: [1], opens: true, closes: false });
    expect(rows[3]!.bars[0]!.end).toBe('final');
    // A beat is equally wide in every row.
    expect(rows[2]!.width).toBeCloseTo(170);
  });

  it('brackets the two beats that are altered, between the chord they begin on and the bar line', () => {
    const rows = rowsOf(reading.chart.bars, { coloured: coloured(placed({})), looped: [], hits: [] }, 680);
    const [bracket] = rows[0]!.coloured;
    const bar = rows[0]!.bars[1]!;
    expect(bracket).toMatchObject({ word: 'altered', opens: true, closes: true });
    expect(bracket!.x1).toBeGreaterThan(bar.x + bar.width / 2 - 10);
    expect(bracket!.x2).toBeLessThanOrEqual(bar.x + bar.width);
    expect(rows.slice(1).every((row) => row.coloured.length === 0)).toBe(true);
    expect(lanesOf(rows[0]!, []).height).toBeGreaterThan(lanesOf({ ...rows[0]!, coloured: [] }, []).height);
  });

  it('says in which rounds a treatment comes, and at which pass of a repeat', () => {
    expect(coloured(placed({ when: { type: 'every', nth: 2 } }))[0]!.word).toBe('altered, every 2nd round');
    expect(coloured(placed({ when: { type: 'chance', chance: 0.3 } }))[0]!.word).toBe(
      'altered, in some rounds',
    );
    const rule = {
      id: 'r',
      kind: 'altered' as const,
      scope: 'every-dominant' as const,
      extent: { type: 'whole' as const },
      // Bar 6 of the form is the D7, the first time through.
      bars: [6],
      when: { type: 'always' as const },
    };
    const byRule = colouredStretches({ reading, layers: { placed: [], rules: [rule] }, seed: 1, nameOf });
    expect(byRule.map(({ bar, word }) => [bar, word])).toEqual([[5, 'altered, 1st time']]);
  });

  it('marks the loop where it lies in the bars as written', () => {
    const looped = loopedStretches(reading, { bar: 1, at: ticks(2 * PPQ), length: ticks(4 * PPQ) });
    expect(looped.map(({ bar, at, length }) => [bar, at / PPQ, length / PPQ])).toEqual([
      [1, 2, 2],
      [2, 0, 2],
    ]);
  });
});

it('a form is shown with six frets, from the nut where the hand lies there', () => {
  const neck = { tuning: [40, 45, 50, 55, 59, 64], capo: 0, lastFret: 15 };
  expect(fretsOf({ firstFret: 5, lastFret: 8 }, neck)).toEqual([5, 6, 7, 8, 9, 10]);
  expect(fretsOf({ firstFret: 1, lastFret: 5 }, neck)).toEqual([0, 1, 2, 3, 4, 5, 6]);
  expect(fretsOf({ firstFret: 2, lastFret: 6 }, { ...neck, capo: 2 })).toEqual([2, 3, 4, 5, 6, 7, 8]);
  expect(fretsOf({ firstFret: 12, lastFret: 15 }, neck)).toEqual([12, 13, 14, 15]);
});

it('the usual paper is that of the region', () => {
  expect(usualPaper('en-US')).toBe('letter');
  expect(usualPaper('es-419')).toBe('a4');
  expect(usualPaper('de')).toBe('a4');
});

async function open(text: string, width = 1280, height = 800) {
  const opened = await openPage(text);
  await page.viewport(width, height);
  await openSheet(opened, 'Files');
  await page.getByRole('button', { name: 'Look at it and print' }).click();
  await expect.element(page.getByRole('dialog', { name: 'Handout' })).toBeVisible();
  await expect.element(page.getByRole('region', { name: 'Page 1 of 1' })).toBeInTheDocument();
  return opened;
}

it('shows the forms of the first dominant that is coloured, and another chord’s on request', async () => {
  const { session } = await open('| Dm7 | G7 | Cmaj7 | A7alt |');
  await expect.element(page.getByRole('img', { name: /^A altered, Form 1/ })).toBeInTheDocument();
  await expect
    .element(page.getByRole('combobox', { name: 'Forms of' }))
    .toHaveDisplayValue('A7alt: A altered');
  await page.getByRole('combobox', { name: 'Forms of' }).selectOptions('G7: G mixolydian');
  await expect.element(page.getByRole('img', { name: /^G mixolydian, Form 1/ })).toBeInTheDocument();
  expect(session.project.forms).toHaveLength(5);
  session.undo();
  await expect.element(page.getByRole('img', { name: /^A altered, Form 1/ })).toBeInTheDocument();
});

it('says that nothing is on the page as long as there are no chords', async () => {
  const { session } = await open('');
  const said = page.getByText('The chart has no chords yet, and so the page is empty.');
  await expect.element(said).toBeVisible();
  session.type('| Dm7 | G7 |');
  await expect.element(said).not.toBeInTheDocument();
});

it('keeps with the chart what is left out and the words, and undo takes each back', async () => {
  const { session } = await open('| Dm7 | G7alt | Cmaj7 |');
  await page.getByRole('checkbox', { name: 'Scales', exact: true }).click();
  await expect.element(page.getByRole('table')).not.toBeInTheDocument();
  expect(session.project.handout.without).toEqual(['scales']);
  await page.getByRole('textbox', { name: 'Your words to the player' }).fill('Both fifths.');
  await expect.element(page.getByRole('region', { name: 'Page 1 of 1' })).toHaveTextContent('Both fifths.');
  session.undo();
  expect(session.project.words).toBe('');
  session.undo();
  expect(session.project.handout.without).toEqual([]);
});

it('draws segno and coda, and leaves the words to where one leaves', async () => {
  const { screen } = await open('| Cmaj7 | Segno "slowly" Fmaj7 | G7 To Coda | Am7 D.S. al Coda || Coda C |');
  const chart = [...screen.container.querySelectorAll('svg')].find((svg) =>
    svg.textContent.includes('D.S.'),
  )!;
  expect([...chart.querySelectorAll('text')].map((text) => text.textContent.trim())).toEqual(
    expect.arrayContaining(['slowly', 'To Coda', 'D.S. al Coda']),
  );
  expect(chart.textContent).not.toContain('Segno');
  const drawn = [...chart.querySelectorAll<SVGPathElement>('path[transform]')].filter(
    ({ transform }) => (transform.baseVal.consolidate()?.matrix.a ?? 1) < 0.1,
  );
  expect(drawn.map((path) => path.getAttribute('d')!.slice(0, 8))).toEqual([
    'M135-665',
    'M937-400',
    'M937-400',
  ]);
  for (const path of drawn) expect(path.getBoundingClientRect().height).toBeGreaterThan(5);
  expect(chart.getAttribute('aria-label')).toMatch(/bar 2: Fmaj7, Segno/);
});

it('says the step that the chart is, and its code opens it', async () => {
  const exchange = {
    write: writeProject,
    read: readProject,
    link: encodeLink,
    readLink: decodeLink,
    ending: '',
  };
  const step = { title: 'Thirds', minutes: 6, goal: 'Let b9 fall.', drill: null };
  const opened = await openPage('| Dm7 | G7alt | Cmaj7 |', { step }, [], { exchange });
  await openSheet(opened, 'Files');
  await page.getByRole('button', { name: 'Look at it and print' }).click();
  await expect
    .element(page.getByRole('region', { name: 'Page 1 of 1' }))
    .toHaveTextContent(/Thirds, 6 minutes\. Let ♭9 fall\./);
  const link = () => opened.screen.container.querySelector<HTMLAnchorElement>('[data-figure="code"]')?.href;
  await expect.poll(link).toBeTruthy();
  const read = await decodeLink(new URL(link()!).hash);
  expect(read.ok && read.value.project.step).toEqual(step);
});

it('puts the page beneath out of reach, and Escape gives it back', async () => {
  const { screen } = await open('| C7alt |');
  const behind = () => screen.container.querySelector('main')!.inert;
  expect(behind()).toBe(true);
  await expect.element(page.getByRole('button', { name: 'Print', exact: true })).toHaveFocus();
  document.activeElement!.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true }));
  await expect.element(page.getByRole('dialog', { name: 'Handout' })).not.toBeInTheDocument();
  expect(behind()).toBe(false);
});

it.each([
  [1440, 900],
  [820, 1180],
  [360, 740],
] as const)('reads well for everybody at %i × %i, by day and by night', async (width, height) => {
  const { session } = await open('[A] | Dm7 | G7 | Cmaj7 | A7alt |', width, height);
  expect(await complaints()).toEqual([]);
  expect(overflowing()).toEqual([]);
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  session.preferences.set({ theme: 'night' });
  await expect.poll(() => document.documentElement.dataset['theme']).toBe('night');
  expect(await complaints('colours')).toEqual([]);
});
