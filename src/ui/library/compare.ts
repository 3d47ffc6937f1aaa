import { carryBars, readText, type Bar, type Chart, type Project } from '../../engine/index.ts';

/** More are no help in recognising a version. */
const MOST_BARS = 6;

/** What has changed from one state of a chart to a later one, in words; empty when nothing has. */
export function differences(then: Project, now: Project): readonly string[] {
  const found: string[] = [];
  const say = (is: boolean, words: string) => is && found.push(words);
  const differ = (a: unknown, b: unknown) => JSON.stringify(a) !== JSON.stringify(b);
  say(then.title !== now.title, `The title was ${then.title || 'empty'}.`);
  found.push(...barDifferences(readText(then.text).chart, readText(now.text).chart));
  say(
    found.length === 0 && then.text !== now.text,
    'The text was laid out otherwise; its bars are the same.',
  );
  say(
    differ(then.key, now.key),
    `The key was ${then.key ? `${then.key.tonic} ${then.key.mode}` : 'left open'}.`,
  );
  say(then.settings.tempo !== now.settings.tempo, `The tempo was ${Math.round(then.settings.tempo)}.`);
  say(then.settings.feel !== now.settings.feel, `The feel was ${then.settings.feel}.`);
  const { tempo: _, feel: __, ...before } = then.settings;
  const { tempo: ___, feel: ____, ...after } = now.settings;
  say(differ(before, after), 'The band was set otherwise.');
  found.push(...countDifference('treatment', then.layers.placed, now.layers.placed));
  found.push(...countDifference('rule', then.layers.rules, now.layers.rules));
  say(
    differ(then.loop, now.loop),
    then.loop === null ? 'Nothing was looped.' : 'Another stretch was looped.',
  );
  say(differ(then.scales, now.scales), 'Other scales were picked.');
  say(differ(then.step, now.step), `It was ${then.step === null ? 'no step' : 'another step'} to practise.`);
  say(differ(then.mix, now.mix), 'The mix was another.');
  say(differ(then.tags, now.tags), `The tags were ${then.tags.join(', ') || 'none'}.`);
  say(then.words !== now.words, 'The words to the player were others.');
  return found;
}

/** Bar by bar: those that read differently, those that are gone and those that are new. */
function barDifferences(then: Chart, now: Chart): string[] {
  const follow = carryBars(then, now);
  const found: string[] = [];
  const arrived = new Set<number>();
  let gone = 0;
  for (const bar of then.bars) {
    const index = follow(bar.index);
    const there = index === null ? undefined : now.bars[index];
    if (there === undefined) {
      gone++;
      continue;
    }
    arrived.add(there.index);
    const [before, after] = [chordsOf(bar), chordsOf(there)];
    if (before !== after) found.push(`Bar ${there.index + 1} was ${before}; it is ${after} now.`);
  }
  const added = now.bars.length - arrived.size;
  const more = found.length - MOST_BARS;
  const shown = more > 0 ? [...found.slice(0, MOST_BARS), `${bars(more)} more read otherwise.`] : found;
  if (gone > 0) shown.push(`${bars(gone)} ${gone === 1 ? 'has' : 'have'} gone since.`);
  if (added > 0) shown.push(`${bars(added)} ${added === 1 ? 'has' : 'have'} come since.`);
  return shown;
}

const bars = (count: number) => `${count} ${count === 1 ? 'bar' : 'bars'}`;

function chordsOf(bar: Bar): string {
  if (bar.simile > 0) return '%'.repeat(bar.simile);
  const chords = bar.slots.map(
    ({ chord, silence }) => chord?.text ?? (silence === 'no-chord' ? 'N.C.' : '?'),
  );
  return chords.join(' ') || 'empty';
}

function countDifference(what: string, then: readonly object[], now: readonly object[]): string[] {
  if (JSON.stringify(then) === JSON.stringify(now)) return [];
  const were = (count: number) => (count === 1 ? `was 1 ${what}` : `were ${count || 'no'} ${what}s`);
  return [then.length === now.length ? `The ${what}s were others.` : `There ${were(then.length)}.`];
}
