/**
 * Standard MIDI Files (RP-001, format 1): what the band plays, for other programs.
 *
 * Written by hand because the one library that is exact to the tick copies all it has written at every
 * event: it took 25 s for the 128 kB of a file that takes a few milliseconds here.
 */
import { PARTS, PPQ, type PlayPlan } from '../../engine/index.ts';
import { quantity } from './events.ts';
import { excerptOf } from './excerpt.ts';
import { leadTrack, partTrack, type Track } from './tracks.ts';
import type { MidiChoices } from '../../ui/ports.ts';

/**
 * A MIDI file of some rounds: a track that leads with tempo, metres and markers, and one for each part
 * that plays. {@link PPQ} ticks to the quarter, so every note stands at the tick at which it is heard.
 * @throws RangeError when the plan has no music in it, or no round is asked for
 */
export function writeMidi(plan: PlayPlan, choices: MidiChoices): Uint8Array<ArrayBuffer> {
  const excerpt = excerptOf(plan, choices);
  const playing = PARTS.filter((part) => excerpt.notes[part].length > 0);
  return fileOf([
    leadTrack(excerpt, choices),
    ...playing.map((part) => partTrack(part, excerpt, plan.settings)),
  ]);
}

function fileOf(tracks: readonly Track[]): Uint8Array<ArrayBuffer> {
  const header = chunk('MThd', [0, 1, 0, tracks.length, PPQ >> 8, PPQ & 0xff]);
  const chunks = [header, ...tracks.map((track) => chunk('MTrk', bytesOf(track)))];
  const file = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of chunks) {
    file.set(piece, at);
    at += piece.length;
  }
  return file;
}

function bytesOf(track: Track): number[] {
  const bytes: number[] = [];
  let now = 0;
  for (const event of track.toSorted((a, b) => a.at - b.at)) {
    for (const byte of quantity(event.at - now)) bytes.push(byte);
    for (const byte of event.bytes) bytes.push(byte);
    now = event.at;
  }
  return bytes;
}

function chunk(type: string, data: readonly number[]): Uint8Array {
  const piece = new Uint8Array(8 + data.length);
  for (let i = 0; i < 4; i++) piece[i] = type.charCodeAt(i);
  new DataView(piece.buffer).setUint32(4, data.length);
  piece.set(data, 8);
  return piece;
}
