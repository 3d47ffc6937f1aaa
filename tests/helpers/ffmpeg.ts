import { spawnSync } from 'node:child_process';
import { findFfmpeg } from '../../src/tools/programs.mjs';

/** What a listener apart from this program measures. */
export interface Measured {
  /** Integrated loudness by EBU R 128, LUFS. */
  readonly loudness: number;
  /** True peak, dB of full scale. */
  readonly truePeak: number;
  /** The sound as ffmpeg names it, e.g. "pcm_s16le, 44100 Hz, stereo, s16". */
  readonly stream: string;
  /** Seconds. */
  readonly length: number;
  /** All that ffmpeg says, the titles in the file included. */
  readonly told: string;
}

/**
 * A sound file as ffmpeg's ebur128 filter measures it.
 * @throws Error when there is no ffmpeg, or it cannot read the file
 */
export function measure(file: string): Measured {
  const program = findFfmpeg();
  if (program === undefined) throw new Error('ffmpeg is not here: `npm test` installs it or says how');
  const filter = ['-af', 'ebur128=peak=true:framelog=verbose', '-f', 'null', '-'];
  const { status, stderr } = spawnSync(program, ['-hide_banner', '-nostats', '-i', file, ...filter], {
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`ffmpeg cannot read ${file}:\n${stderr}`);
  const said = (pattern: RegExp) => {
    const found = pattern.exec(stderr)?.[1];
    if (found === undefined) throw new Error(`ffmpeg does not say ${String(pattern)}:\n${stderr}`);
    return found;
  };
  const [, hours, minutes, seconds] = /Duration: (\d+):(\d+):([\d.]+)/.exec(stderr)!;
  return {
    loudness: Number(said(/Integrated loudness:\s+I:\s+(-?[\d.]+) LUFS/)),
    truePeak: Number(said(/True peak:\s+Peak:\s+(-?[\d.]+|-inf) dBFS/)),
    stream: said(/Audio: ([^\n]+?)(?: \([^)]*\))?(?:, \d+ kb\/s[^\n]*)?\n/),
    told: stderr,
    length: 3600 * Number(hours) + 60 * Number(minutes) + Number(seconds),
  };
}
