export { FILE_ENDING, readProject, writeProject } from './file.ts';
export { decodeLink, encodeLink } from './link.ts';
export { readFirstPreset } from './first-preset.ts';
export { openDevice } from './device.ts';
