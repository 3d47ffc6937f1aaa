import { frequency, randomFor, type Random } from '../../engine/index.ts';
import type { Instrument } from '../types.ts';
import type { Recording } from './decode.ts';

/** Keys at which a pitched stand-in is made; those between are re-tuned. */
const KEYS = [28, 40, 52, 64, 76, 88];

/** What an unpitched stand-in is made of: a tone that falls, noise above a frequency, and how fast they fade. */
interface Stroke {
  /** Hz, where there is a tone. */
  readonly tone?: number;
  /** Share of noise, 0 to 1. */
  readonly noise: number;
  /** Time in which it falls by 60 dB, seconds. */
  readonly t60: number;
}

/** General MIDI percussion keys (from memory) and a stroke that stands for each. */
const STROKES: Readonly<Record<number, Stroke>> = {
  31: { noise: 1, t60: 0.06 },
  33: { tone: 1600, noise: 0, t60: 0.06 },
  34: { tone: 2400, noise: 0, t60: 0.1 },
  35: { tone: 58, noise: 0.05, t60: 0.25 },
  36: { tone: 62, noise: 0.05, t60: 0.25 },
  37: { tone: 900, noise: 0.5, t60: 0.07 },
  38: { tone: 190, noise: 0.7, t60: 0.16 },
  39: { noise: 1, t60: 0.14 },
  40: { noise: 1, t60: 0.3 },
  41: { tone: 75, noise: 0.1, t60: 0.5 },
  42: { noise: 1, t60: 0.08 },
  43: { tone: 88, noise: 0.1, t60: 0.5 },
  44: { noise: 1, t60: 0.1 },
  45: { tone: 105, noise: 0.1, t60: 0.45 },
  46: { noise: 1, t60: 0.6 },
  47: { tone: 125, noise: 0.1, t60: 0.4 },
  48: { tone: 148, noise: 0.1, t60: 0.4 },
  49: { noise: 1, t60: 1.6 },
  50: { tone: 175, noise: 0.1, t60: 0.35 },
  51: { tone: 3100, noise: 0.8, t60: 0.7 },
  53: { tone: 2700, noise: 0.4, t60: 0.8 },
  55: { noise: 1, t60: 0.9 },
  57: { noise: 1, t60: 1.6 },
  59: { tone: 2900, noise: 0.8, t60: 0.7 },
  76: { tone: 1300, noise: 0.1, t60: 0.06 },
  77: { tone: 900, noise: 0.1, t60: 0.06 },
};

/** The keys an unpitched instrument has strokes of its own for. */
const STRUCK: Readonly<Partial<Record<Instrument, readonly number[]>>> = {
  sticks: [31, 35, 36, 37, 38, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 53, 55, 57, 59],
  brushes: [38, 39, 40],
  click: [31, 33, 34, 37, 76, 77],
};

/** Plain sounds made on the spot, played until an instrument's own have come, or where they cannot. */
export function standIns(instrument: Instrument, sampleRate: number): readonly Recording[] {
  const struck = STRUCK[instrument];
  if (struck !== undefined) {
    return struck.map((key) => {
      const sound = strike(STROKES[key]!, sampleRate, randomFor(1, 'stand-in', key));
      return recording(key, sampleRate, sound, 0.35);
    });
  }
  return KEYS.map((key) => recording(key, sampleRate, pluck(frequency(key), sampleRate), 0.6));
}

function recording(
  key: number,
  sampleRate: number,
  sound: Float32Array<ArrayBuffer>,
  gain: number,
): Recording {
  const buffer = new AudioBuffer({ length: sound.length, sampleRate });
  buffer.copyToChannel(sound, 0);
  return { key, buffer, gain, cents: 0 };
}

/** Six harmonics, the higher the weaker and the sooner gone. */
function pluck(pitch: number, sampleRate: number): Float32Array<ArrayBuffer> {
  const sound = new Float32Array(Math.round(2.5 * sampleRate));
  for (let harmonic = 1; harmonic <= 6; harmonic++) {
    const step = (2 * Math.PI * pitch * harmonic) / sampleRate;
    const decay = 10 ** ((-3 * harmonic ** 0.7) / (2.4 * sampleRate));
    for (let i = 0, level = 0.45 / harmonic ** 1.6; i < sound.length; i++, level *= decay) {
      sound[i]! += level * Math.sin(step * (i + 1));
    }
  }
  return sound;
}

function strike({ tone, noise, t60 }: Stroke, sampleRate: number, random: Random): Float32Array<ArrayBuffer> {
  let before = 0;
  return Float32Array.from({ length: Math.round(t60 * sampleRate) }, (_, i) => {
    const white = 2 * random.next() - 1;
    const hiss = (white - before) / 2;
    before = white;
    const hum = tone === undefined ? 0 : Math.sin((2 * Math.PI * tone * (i + 1)) / sampleRate);
    return (noise * hiss + (1 - noise) * hum) * 10 ** ((-3 * i) / (t60 * sampleRate));
  });
}
