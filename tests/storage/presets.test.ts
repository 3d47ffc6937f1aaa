import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  readText,
  roundChanges,
  stretchOf,
  type PlacedTreatment,
  type PlayedBar,
  type Project,
  type Span,
} from '../../src/engine/index.ts';
import { readProject, writeProject } from '../../src/storage/file.ts';
import { readPresets } from '../../src/storage/presets.ts';

const FOLDER = new URL('../../presets/charts/', import.meta.url);
const names = readdirSync(FOLDER).sort();
const textOf = (name: string) => readFileSync(new URL(name, FOLDER), 'utf8');

function projectOf(name: string): Project {
  const read = readProject(textOf(name));
  if (!read.ok) throw new RangeError(`${name}: ${read.error.message}`);
  expect(read.value.notices, name).toEqual([]);
  return read.value.project;
}

/** The spans that sound while `item` does, at each pass of its bar. */
function spansUnder(item: PlacedTreatment, bars: readonly PlayedBar[], spans: readonly Span[]) {
  return bars
    .filter((bar) => bar.written === item.bar)
    .map((bar) => {
      const from = bar.start + item.at;
      return spans.filter((span) => span.start < from + item.length && span.start + span.length > from);
    });
}

describe('the charts that come with the app', () => {
  it('are found by the app, in order, a vamp on C7alt first', () => {
    const presets = readPresets();
    expect(presets.map((preset) => preset.id)).toEqual(names.map((name) => name.slice(3, -5)));
    expect(presets[0]!.project.text).toMatch(/^C7alt /);
    expect(presets.length).toBeGreaterThanOrEqual(16);
  });

  it.each(names)(
    '%s is written as the app writes it, and says what to practise and where it is from',
    async (name) => {
      const project = projectOf(name);
      await expect(writeProject(project)).toMatchFileSnapshot(`../../presets/charts/${name}`);
      expect(project.title).not.toBe('');
      expect(project.words).toMatch(/^[A-Z].+\.$/);
      expect(['Common form.', 'Our own.']).toContain(project.source);
      expect(project.licence).not.toBe('');
      expect(project.tags.length).toBeGreaterThan(0);
    },
  );

  it.each(names)('%s has changes without a problem', (name) => {
    const { chart, form, written } = readText(projectOf(name).text);
    expect([...chart.problems, ...form.problems]).toEqual([]);
    expect(written.length).toBeGreaterThan(0);
    expect(written.spans.filter((span) => span.silence === 'gap')).toEqual([]);
  });

  it.each(names)('%s has dominants under every treatment placed by hand', (name) => {
    const { layers, text } = projectOf(name);
    const { written } = readText(text);
    for (const item of layers.placed) {
      const passes = spansUnder(item, written.bars, written.spans);
      expect(passes.length, item.id).toBeGreaterThan(0);
      for (const spans of passes) {
        expect(
          spans.map((span) => span.chord?.family),
          item.id,
        ).toEqual(spans.map(() => 'dominant'));
        expect(spans.length, item.id).toBeGreaterThan(0);
      }
    }
  });

  it.each(names)('%s: each of its treatments and rules is heard within four rounds', (name) => {
    const { layers, text, settings, loop } = projectOf(name);
    const { written } = readText(text);
    const each = [
      ...layers.placed.map((item) => ({ placed: [item], rules: [] })),
      ...layers.rules.map((item) => ({ placed: [], rules: [item] })),
    ];
    for (const one of each) {
      const kinds = [0, 1, 2, 3].flatMap((round) =>
        roundChanges(
          { written, layers: one, loop: loop && stretchOf(loop, written), settings },
          round,
        ).spans.flatMap((span) => span.treatment?.kind ?? []),
      );
      expect(kinds).toContain([...one.placed, ...one.rules][0]!.kind);
    }
  });
});
