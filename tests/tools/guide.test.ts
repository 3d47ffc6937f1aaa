import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readText } from '../../src/engine/index.ts';
import { readProject } from '../../src/storage/index.ts';
import { chapters } from '../../src/tools/guide.mjs';
import { toHtml } from '../../src/tools/markdown.mjs';
import { ACTIONS } from '../../src/ui/keys/actions.ts';
import { RIBBON_KEYS } from '../../src/ui/keys/actions.ts';

const FOLDER = join(import.meta.dirname, '../../src/guide');
const files = readdirSync(FOLDER).filter((name) => name.endsWith('.md'));
const textOf = (name: string) => readFileSync(join(FOLDER, name), 'utf8');
const blocks = (text: string, language: string) =>
  [...text.matchAll(new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\`$`, 'gm'))].map(([, code]) => code!);
const examples = files.flatMap((name) => blocks(textOf(name), 'chart'));

describe('the guide', () => {
  it.each(examples)('shows a chart that is read without a problem: %s', (text) => {
    const { chart, form } = readText(text);
    expect([...chart.problems, ...form.problems]).toEqual([]);
    expect(form.bars.length).toBeGreaterThan(0);
  });

  it('shows everything a chart can be written with', () => {
    const all = examples.map((text) => readText(text).chart.bars);
    const bars = all.flat();
    const signs = new Set(bars.flatMap((bar) => bar.signs));
    expect([...signs].toSorted()).toEqual(['coda', 'dc-al-fine', 'ds-al-coda', 'fine', 'segno', 'to-coda']);
    const text = examples.join('\n');
    for (const sign of [
      '|:',
      ':|',
      ':| 3x',
      '1.',
      '1-3.',
      '%',
      '%%',
      '/',
      '||',
      '3/4',
      '6/8',
      'N.C.',
      '[A]',
      '"',
      '(',
    ]) {
      expect(text, sign).toContain(sign);
    }
    const chapter = textOf('3-charts.md');
    for (const sign of ['D.C.', 'D.S.', 'D.C. al Coda', 'D.S. al Fine', '𝄋', '𝄌', '𝄎'])
      expect(chapter).toContain(sign);
  });

  it('shows chart files that are read whole', () => {
    const shown = blocks(textOf('file-format.md'), 'json');
    expect(shown.length).toBe(3);
    for (const text of shown) {
      const read = readProject(text);
      expect(read.ok && read.value.notices).toEqual([]);
    }
  });

  it('names every field of the chart file', () => {
    const schema = JSON.parse(
      readFileSync(join(FOLDER, '../../shared/project-file.schema.json'), 'utf8'),
    ) as {
      properties: Record<string, unknown>;
    };
    for (const field of Object.keys(schema.properties))
      expect(textOf('file-format.md')).toContain(`\`${field}\``);
  });

  it('speaks of keys that are there', () => {
    const known = new Set([...ACTIONS.flatMap(({ keys }) => keys), ...RIBBON_KEYS.map(([key]) => key)]);
    const told = chapters()
      .flatMap((text) => [...text.replaceAll(/^```[\s\S]*?^```$/gm, '').matchAll(/`([^`]+)`/g)])
      .map(([, code]) => code!)
      .filter((code) => /^(.|Ctrl\+.)$/.test(code) && !'BH'.includes(code));
    expect(told.length).toBeGreaterThan(10);
    for (const key of told) expect(known, key).toContain(key);
  });

  it('has every picture it shows, each with words and none above 60 kB, and shows every one it has', () => {
    const shown = new Set<string>();
    for (const text of chapters()) {
      for (const [, words, source] of text.matchAll(/!\[(.*?)\]\((.+?)\)/g)) {
        expect(words!.length).toBeGreaterThan(5);
        expect(statSync(join(FOLDER, source!)).size).toBeLessThan(60_000);
        shown.add(source!);
      }
    }
    const there = readdirSync(join(FOLDER, 'pictures')).map((name) => `pictures/${name}`);
    expect(there.toSorted()).toEqual([...shown].toSorted());
  });

  it('leads to files that are there', () => {
    for (const name of files) {
      for (const [, target] of textOf(name).matchAll(/\]\(([^)#]+)\)/g)) {
        expect(existsSync(join(FOLDER, target!)), `${name}: ${target}`).toBe(true);
      }
    }
  });
});

describe('the page made of it', () => {
  it('keeps what is typed as text and makes only what is meant', () => {
    const html = toHtml(
      '# A & <b>\n\nPress **Play** or `A`.\n\n- one\n- [two](x.md)\n\n```chart\nC | G7 <\n```\n',
      () => '',
    );
    expect(html).toBe(
      '<h2 id="a-b">A &amp; &lt;b&gt;</h2>\n<p>Press <strong>Play</strong> or <kbd>A</kbd>.</p>\n' +
        '<ul><li>one</li><li><a href="x.md">two</a></li></ul>\n<pre tabindex="0">C | G7 &lt;</pre>',
    );
  });
});
