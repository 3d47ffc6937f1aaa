/**
 * Bakes the sounds the app ships: plays single notes of a soundfont, trims, tunes and levels them,
 * and writes one MP3 an instrument and the manifest to src/audio/samples.
 *
 *     npx tsx src/tools/bake.ts [soundfont.sf2] [instrument …]
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { encode } from './bake/encode.ts';
import { RECIPES, type Recipe } from './bake/plan.ts';
import { evened, fold, isMono, lift, peakOf, rms, trim, type Sound } from './bake/shape.ts';
import { openSoundfont, type Striker } from './bake/soundfont.ts';
import { centsAt, straighten } from './bake/tuning.ts';

const RATE = 44100;
/** Where the pulse lies that tells a decoder's delay, and where the first sound begins, in frames. */
const PULSE = 4410;
const FIRST = 11025;
/** Silence between sounds: more than one block of the encoder, so that none smears into the next. */
const GAP = 3000;
/** Peak of every sound in the file; decoders that clip have 6 dB to spare. */
const PEAK = 0.5;

const OUT = join(import.meta.dirname, '../audio/samples');
const SOURCE = '/usr/share/sounds/sf2/FluidR3_GM.sf2';

/** One sound of an instrument, as the manifest lists it. */
interface Entry {
  readonly key: number;
  /** Frames from the pulse to the first frame of the sound, and its length. */
  readonly start: number;
  readonly frames: number;
  /** Factor that restores its level beside the other sounds; the loudest has 1. */
  readonly gain: number;
  /** How far the recording lies above equal temperament. */
  readonly cents: number;
  /** Both channels are so alike that one will do. */
  readonly mono: boolean;
}

function shape(strike: Striker, recipe: Recipe, key: number): Sound {
  const seconds = recipe.longest?.[key] ?? recipe.seconds;
  const struck = strike(recipe.preset, key, seconds + 0.1);
  let sound: Sound = recipe.channels === 1 ? fold(struck) : struck;
  if (recipe.drifts) sound = straighten(sound, RATE, key);
  if (recipe.sustain) sound = lift(sound, RATE, recipe.sustain);
  return trim(sound, RATE, seconds, recipe.fade);
}

/** A pulse with one highest frame, short enough for the encoder to keep in place. */
const pulse = (sound: Sound) =>
  sound.forEach((channel) => [0.3, 0.8, 0.3].forEach((x, i) => (channel[PULSE - 1 + i] = x)));

function bake(strike: Striker, recipe: Recipe) {
  const sounds = recipe.keys.map((key) => ({ key, sound: shape(strike, recipe, key) }));
  const levels = sounds.map(({ key, sound }) => ({ key, level: 20 * Math.log10(rms(sound, RATE, 0, 0.3)) }));
  const even = recipe.pitched ? evened(levels) : sounds.map(() => 1);
  const peaks = sounds.map(({ sound }, i) => peakOf(sound) * even[i]!);
  const loudest = Math.max(...peaks);
  let at = FIRST;
  const entries = sounds.map(({ key, sound }, i): Entry => {
    const cents = recipe.pitched ? centsAt(sound, RATE, key, 0.1, 0.6) : 0;
    const frames = sound[0]!.length;
    const entry = {
      key,
      start: at - PULSE,
      frames,
      gain: Number((peaks[i]! / loudest).toFixed(4)),
      cents: Number(cents.toFixed(2)),
      mono: isMono(sound),
    };
    at += frames + GAP;
    return entry;
  });
  const file: Sound = Array.from({ length: recipe.channels }, () => new Float32Array(at));
  pulse(file);
  sounds.forEach(({ sound }, i) => {
    const scale = PEAK / peakOf(sound);
    sound.forEach((channel, c) =>
      file[c]!.set(
        channel.map((x) => x * scale),
        PULSE + entries[i]!.start,
      ),
    );
  });
  encode(file, RATE, recipe.quality, join(OUT, `${recipe.name}.mp3`));
  return {
    file: `${recipe.name}.mp3`,
    source: `FluidR3 GM, ${recipe.preset.drums ? 'drum kit' : 'program'} ${recipe.preset.program}, "${recipe.preset.name}"`,
    sounds: entries,
  };
}

const [given, ...wanted] = process.argv.slice(2);
const source = given ?? SOURCE;
if (!existsSync(source)) {
  throw new Error(`no soundfont at ${source}: apt-get install fluid-soundfont-gm, or give its path`);
}
try {
  execFileSync('ffmpeg', ['-version'], { stdio: 'ignore' });
} catch {
  throw new Error('ffmpeg is not here: apt-get install ffmpeg');
}
const manifestFile = join(OUT, 'manifest.json');
mkdirSync(OUT, { recursive: true });
const file = readFileSync(source);
const strike = await openSoundfont(
  file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength),
  RATE,
);
const before = existsSync(manifestFile) ? JSON.parse(readFileSync(manifestFile, 'utf8')).instruments : {};
const instruments = { ...before };
for (const recipe of RECIPES) {
  if (wanted.length > 0 && !wanted.includes(recipe.name)) continue;
  instruments[recipe.name] = bake(strike, recipe);
  const kilobytes = Math.round(statSync(join(OUT, `${recipe.name}.mp3`)).size / 1024);
  const cents = instruments[recipe.name].sounds.map((s: Entry) => s.cents);
  console.log(
    `${recipe.name}: ${recipe.keys.length} sounds, ${kilobytes} kB, tuned from ${Math.min(...cents)} to ${Math.max(...cents)} cents`,
  );
}
writeFileSync(manifestFile, `${JSON.stringify({ rate: RATE, pulse: PULSE, instruments }, null, 1)}\n`);
