import { expect } from 'vitest';
import { randomFor, readText, type Random } from '../../src/engine/index.ts';
import { pack, readMusicXml, unpack, writeMusicXml } from '../../src/export/musicxml/index.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { mutate } from './mutate.ts';

/** Counts of what became of hurt documents. */
export interface SheetTally {
  opened: number;
  withNotices: number;
  refused: number;
  /** The most work that one took, ms of the processor; to be read, not to be judged by. */
  slowest: number;
  /** The most memory in use after one, MB; to be read. */
  heap: number;
}

/** What breaks careless readers of XML. */
const POISON = [
  '<!DOCTYPE x [<!ENTITY a "&a;&a;">]>',
  '&a;&a;&a;',
  '&#0;&#x110000;',
  '<harmony>'.repeat(60),
  '<![CDATA[',
  '<!--',
  '</part>',
  '<measure number="0" implicit="yes"><harmony/></measure>',
  '<barline><repeat direction="backward" times="1e9"/></barline>',
  '<barline><repeat direction="forward"/><ending number="99,1,1" type="start"/></barline>',
  '<attributes><divisions>1e-300</divisions><time><beats>1e9</beats><beat-type>3</beat-type></time></attributes>',
  '<attributes><divisions>Infinity</divisions></attributes>',
  '<forward><duration>1e308</duration></forward>',
  '<backup><duration>-1e308</duration></backup>',
  '<offset>NaN</offset>',
  '<root-alter>1e9</root-alter>',
  '<degree><degree-value>1e9</degree-value><degree-alter>-1e9</degree-alter><degree-type>alter</degree-type></degree>',
  '<inversion>99999</inversion>',
  '<words>" | D.S. al Coda "</words>',
  '\u2028|',
];

function hurt(document: string, random: Random): string {
  const wounded = random.chance(0.6) ? mutate(document, random) : document;
  if (!random.chance(0.6)) return wounded;
  // Most poison works between two elements.
  const places = [...wounded.matchAll(/>/g)];
  const at = places.length === 0 ? 0 : random.pick(places).index + 1;
  return wounded.slice(0, at) + random.pick(POISON) + wounded.slice(at);
}

/** Reads `count` hurt copies of lead sheets, every tenth packed and hurt as bytes, and says what became of them. */
export function readHurtSheets(count: number, seed: number): SheetTally {
  const documents = readPresets().map(({ project }) =>
    writeMusicXml(
      { chart: readText(project.text).chart, changes: null },
      { title: project.title, key: project.key, tempo: project.settings.tempo, treatments: 'leave-out' },
    ),
  );
  const foreign = documents.map((document) => document.replace('Vampwright', 'Another'));
  const packed = documents.map(pack);
  const tally: SheetTally = { opened: 0, withNotices: 0, refused: 0, slowest: 0, heap: 0 };
  for (let i = 0; i < count; i++) {
    const random = randomFor(seed, 'sheet', i);
    const start = process.cpuUsage();
    if (i % 10 === 0) {
      const bytes = random.pick(packed).slice();
      for (let hits = 1 + random.below(4); hits > 0; hits--)
        bytes[random.below(bytes.length)] = random.below(256);
      const document = unpack(bytes);
      judge(document.ok ? readMusicXml(document.value) : document, tally);
    } else judge(readMusicXml(hurt(random.pick(random.chance(0.5) ? documents : foreign), random)), tally);
    const { user, system } = process.cpuUsage(start);
    tally.slowest = Math.max(tally.slowest, (user + system) / 1000);
    if (i % 500 === 0) tally.heap = Math.max(tally.heap, process.memoryUsage().heapUsed / 2 ** 20);
  }
  return tally;
}

/** Whatever is opened is a chart that can be read, unfolded and written again. */
function judge(result: ReturnType<typeof readMusicXml>, tally: SheetTally): void {
  if (!result.ok) {
    tally.refused++;
    expect(result.error.message).not.toBe('');
    return;
  }
  tally.opened++;
  const { project, notices } = result.value;
  if (notices.length > 0) tally.withNotices++;
  const { chart } = readText(project.text);
  expect(chart.bars.length).toBeGreaterThan(0);
  expect(project.settings.tempo).toBeGreaterThanOrEqual(30);
  expect(Object.keys(Object.prototype)).toEqual([]);
}
