import { limiterDelay, type LimiterOptions } from './limiter-core.ts';
import processorUrl from './output.worklet.ts?worker&url';

/** The loudest true peak that leaves the app, dB below full scale (our choice: what EBU R 128 asks of files). */
export const CEILING_DB = -1;
/** Kept below the ceiling for what the estimate between samples misses, dB (our choice, by measure). */
const MARGIN_DB = 0.3;
/** Our choice: short enough not to be felt, long enough that the gain does not click; seconds. */
const LOOKAHEAD = 0.0015;
const RELEASE = 0.12;

/** The limiter at a sample rate, as it stands before everything that leaves the app. */
export const limiterFor = (sampleRate: number): LimiterOptions => ({
  sampleRate,
  ceiling: 10 ** ((CEILING_DB - MARGIN_DB) / 20),
  lookahead: LOOKAHEAD,
  release: RELEASE,
});

/** The way out of the mixer. */
export interface Output {
  /** Where the band goes in. */
  readonly connectBand: (source: AudioNode) => void;
  /** Where goes in what the room is to hear. */
  readonly connectRoom: (source: AudioNode) => void;
  readonly node: AudioNode;
  /** By how many seconds it delays the sound. */
  readonly delay: number;
  /** Makes the room forget, at a time to come, what was played in it. */
  readonly clear: (when: number) => void;
}

/**
 * Room and limiter of a context. Where no audio worklet is to be had (an insecure page), there is no
 * room, and a curve that bends at the ceiling stands in for the limiter: harsher when driven.
 */
export async function createOutput(context: BaseAudioContext): Promise<Output> {
  const limiter = limiterFor(context.sampleRate);
  try {
    await context.audioWorklet.addModule(processorUrl);
  } catch {
    return withoutWorklet(context, limiter.ceiling);
  }
  const node = new AudioWorkletNode(context, 'output', {
    numberOfInputs: 2,
    outputChannelCount: [2],
    channelCount: 2,
    channelCountMode: 'explicit',
    processorOptions: limiter,
  });
  return {
    node,
    connectBand: (source) => source.connect(node, 0, 0),
    connectRoom: (source) => source.connect(node, 0, 1),
    delay: limiterDelay(limiter) / context.sampleRate,
    clear: (when) => node.port.postMessage(when),
  };
}

/**
 * For a file: four channels, the band's two and the two that the room is to hear, to be finished by
 * {@link Finish} afterwards. A browser renders contexts that have a worklet one after the other, others
 * side by side.
 */
export function createUnfinished(context: BaseAudioContext): Output {
  const node = new ChannelMergerNode(context, { numberOfInputs: 4 });
  /** What is of one channel goes to both sides. */
  const pair = (first: number) => (source: AudioNode) => {
    const stereo = new GainNode(context, { channelCount: 2, channelCountMode: 'explicit' });
    const split = new ChannelSplitterNode(context, { numberOfOutputs: 2 });
    source.connect(stereo).connect(split);
    for (const side of [0, 1]) split.connect(node, side, first + side);
  };
  return { node, connectBand: pair(0), connectRoom: pair(2), delay: 0, clear() {} };
}

function withoutWorklet(context: BaseAudioContext, ceiling: number): Output {
  const node = clipper(context, ceiling);
  return { node, connectBand: (source) => source.connect(node), connectRoom() {}, delay: 0, clear() {} };
}

/** Straight up to half the ceiling, then ever flatter towards it. */
function clipper(context: BaseAudioContext, ceiling: number): WaveShaperNode {
  const knee = ceiling / 2;
  const curve = Float32Array.from({ length: 4097 }, (_, i) => {
    const x = (i - 2048) / 2048;
    const over = Math.abs(x) - knee;
    return over <= 0 ? x : Math.sign(x) * (knee + (ceiling - knee) * Math.tanh(over / (ceiling - knee)));
  });
  return new WaveShaperNode(context, { curve });
}
