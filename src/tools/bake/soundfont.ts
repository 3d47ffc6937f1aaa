import { SoundBankLoader, SpessaSynthProcessor } from 'spessasynth_core';
import { BAKED_VELOCITY, type Preset } from './plan.ts';

/** Left and right, equally long. */
export type Stereo = readonly [Float32Array<ArrayBuffer>, Float32Array<ArrayBuffer>];

/** Plays one key of one preset and returns what is heard, from the moment it is struck. */
export type Striker = (preset: Preset, key: number, seconds: number) => Stereo;

const BLOCK = 128;
const MELODY = 0;
const DRUMS = 9;

/**
 * Opens a soundfont for single notes: no effects, and no note begins before the last has died away.
 * @param file the bytes of an SF2 file
 * @param rate sample rate, Hz
 */
export async function openSoundfont(file: ArrayBuffer, rate: number): Promise<Striker> {
  const synth = new SpessaSynthProcessor(rate, { effectsEnabled: false, eventsEnabled: false });
  synth.soundBankManager.addSoundBank(SoundBankLoader.fromArrayBuffer(file), 'source');
  await synth.processorInitialized;
  const scratch: Stereo = [new Float32Array(BLOCK), new Float32Array(BLOCK)];

  return (preset, key, seconds) => {
    const channel = preset.drums ? DRUMS : MELODY;
    synth.stopAllChannels(true);
    while (synth.voiceCount > 0) synth.process(...scratch);
    synth.programChange(channel, preset.program);
    synth.noteOn(channel, key, BAKED_VELOCITY);
    const length = Math.ceil((seconds * rate) / BLOCK) * BLOCK;
    const sound: Stereo = [new Float32Array(length), new Float32Array(length)];
    for (let at = 0; at < length; at += BLOCK) synth.process(...sound, at, BLOCK);
    return sound;
  };
}
