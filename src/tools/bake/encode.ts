import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Sound } from './shape.ts';

/**
 * Encodes to MP3, which every current browser decodes, with the header that states the encoder's
 * delay.
 * @param quality variable-bit-rate quality, 0 (best) to 9
 */
export function encode(sound: Sound, rate: number, quality: number, file: string): void {
  const folder = mkdtempSync(join(tmpdir(), 'bake-'));
  try {
    const raw = join(folder, 'sound.f32');
    const frames = sound[0]!.length;
    const mixed = new Float32Array(frames * sound.length);
    sound.forEach((channel, c) => channel.forEach((x, i) => (mixed[i * sound.length + c] = x)));
    writeFileSync(raw, new Uint8Array(mixed.buffer));
    const input = ['-f', 'f32le', '-ar', `${rate}`, '-ac', `${sound.length}`, '-i', raw];
    const output = [
      '-codec:a',
      'libmp3lame',
      '-q:a',
      `${quality}`,
      '-write_xing',
      '1',
      '-map_metadata',
      '-1',
    ];
    execFileSync('ffmpeg', ['-v', 'error', '-y', ...input, ...output, '-fflags', '+bitexact', file]);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
