export { FILE_ENDING, readProject, writeProject } from './file.ts';
export { decodeLink, encodeLink } from './link.ts';
export { readFirstPreset, readPresets } from './presets.ts';
export { openDevice } from './device.ts';
