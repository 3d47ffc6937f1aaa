/** Files for other programs and from them. Heavy: load it when a file is asked for, with `await import()`. */
import type { ScorePort } from '../ui/ports.ts';
import { writeMidi } from './midi/index.ts';
import { pack, readMusicXml, unpack, voicingSheet, writeMusicXml, writeStaff } from './musicxml/index.ts';

/** Makes and reads the files of other programs. */
export const scores: ScorePort = {
  midi: (plan, choices) => Promise.resolve(new Blob([writeMidi(plan, choices)], { type: 'audio/midi' })),
  sheet: (sheet, choices, compressed) => musicXml(writeMusicXml(sheet, choices), compressed),
  staff: (sheet, compressed) => musicXml(writeStaff(sheet), compressed),
  voicings: (plan, title, compressed) => musicXml(writeStaff(voicingSheet(plan, title)), compressed),
  async read(file) {
    const document = unpack(new Uint8Array(await file.arrayBuffer()));
    return document.ok ? readMusicXml(document.value) : document;
  },
};

function musicXml(document: string, compressed: boolean): Promise<Blob> {
  const type = `application/vnd.recordare.musicxml${compressed ? '' : '+xml'}`;
  return Promise.resolve(new Blob([compressed ? pack(document) : document], { type }));
}
