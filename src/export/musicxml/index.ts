/** MusicXML 4.0: charts as lead sheets for notation programs, and the chords of their files as charts. */
export { pack, unpack } from './container.ts';
export { readMusicXml } from './read.ts';
export { writeStaff } from './staff.ts';
export { voicingSheet } from './voicings.ts';
export { writeMusicXml } from './write.ts';
