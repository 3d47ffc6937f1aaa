import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PARTS, PPQ } from '../../src/engine/index.ts';
import { writeMidi } from '../../src/export/midi/index.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { needPrograms } from '../../src/tools/programs.mjs';
import { notesByMidiFile, type ReadNote } from '../helpers/midi.ts';
import { planOf } from '../helpers/plan.ts';

const folder = mkdtempSync(join(tmpdir(), 'midi-'));
afterAll(() => rmSync(folder, { recursive: true }));

const files = readPresets().flatMap(({ id, project }) =>
  (['played', 'straight'] as const).map((timing) => {
    const plan = { ...planOf(project.text), layers: project.layers, settings: project.settings };
    const choices = { title: project.title, key: project.key, first: 0, rounds: 4, countIn: 1 };
    const file = writeMidi(plan, { ...choices, timing, parts: PARTS, ending: true });
    const path = join(folder, `${id}-${timing}.mid`);
    writeFileSync(path, file);
    return { path, file };
  }),
);

function open(program: string, ...options: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(program, options, {
    encoding: 'utf8',
    maxBuffer: 2 ** 28,
  });
  expect([status, stderr]).toEqual([0, '']);
  return stdout;
}

describe('every chart as a MIDI file is opened by programs of others', () => {
  let midicsv = '';
  let midi2abc = '';
  beforeAll(async () => {
    [midicsv = '', midi2abc = ''] = await needPrograms({ midicsv: 'midicsv', midi2abc: 'abcmidi' });
  });

  it('midicsv finds the same notes to the tick', () => {
    let count = 0;
    for (const { path, file } of files) {
      const { division, notes } = readCsv(open(midicsv, path));
      expect(division).toBe(PPQ);
      expect(notes).toEqual(notesByMidiFile(file).flat());
      count += notes.length;
    }
    console.info(`midicsv: ${count} notes in ${files.length} files, each the same to the tick`);
    expect(count).toBeGreaterThan(10_000);
  });

  it('midi2abc makes music of them without complaint', () => {
    for (const { path, file } of files) {
      expect(open(midi2abc, path, '-o', `${path}.abc`)).not.toMatch(/error|warning|unexpected/i);
      const voices = readFileSync(`${path}.abc`, 'utf8').split('\nV:').slice(1);
      expect(voices.length).toBe(notesByMidiFile(file).filter(({ length }) => length > 0).length);
      for (const voice of voices) expect(voice).toMatch(/[A-G].*\|/);
    }
    console.info(`midi2abc: ${files.length} files without complaint`);
  });
});

/** The notes in a file as midicsv prints it: "track, tick, Note_on_c, channel, pitch, velocity". */
function readCsv(csv: string): { division: number; notes: readonly ReadNote[] } {
  const open = new Map<string, Omit<ReadNote, 'length'>>();
  const notes: ReadNote[] = [];
  let division = 0;
  for (const line of csv.split('\n')) {
    const [, time, type, ...rest] = line.split(', ');
    const [channel = 0, pitch = 0, velocity = 0] = rest.map(Number);
    const at = Number(time);
    const key = `${channel} ${pitch}`;
    if (type === 'Header') division = velocity;
    if (type === 'Note_on_c') open.set(key, { channel, at, pitch, velocity });
    if (type === 'Note_off_c') notes.push({ ...open.get(key)!, length: at - open.get(key)!.at });
  }
  return { division, notes };
}
