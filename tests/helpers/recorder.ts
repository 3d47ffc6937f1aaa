import recorderUrl from './recorder.worklet.ts?worker&url';

/** A piece of what was heard, from a frame of the audio clock on. */
interface Block {
  readonly frame: number;
  readonly samples: Float32Array;
}

/** Writes down what a live context plays, by the frame of its clock. */
export interface Recorder {
  /** Where to send the sound; it goes nowhere from here. */
  readonly input: AudioNode;
  /** What was heard between two times of the context's clock, seconds; silence where nothing was. */
  heard(from: number, to: number): Float32Array;
}

export async function record(context: AudioContext): Promise<Recorder> {
  await context.audioWorklet.addModule(recorderUrl);
  const node = new AudioWorkletNode(context, 'recorder', { channelCount: 1, channelCountMode: 'explicit' });
  const mute = new GainNode(context, { gain: 0 });
  node.connect(mute).connect(context.destination);
  const blocks: Block[] = [];
  node.port.onmessage = ({ data }: MessageEvent<Block>) => blocks.push(data);
  return {
    input: node,
    heard(from, to) {
      const [first, last] = [from, to].map((time) => Math.round(time * context.sampleRate)) as [
        number,
        number,
      ];
      const sound = new Float32Array(last - first);
      for (const { frame, samples } of blocks) {
        samples.forEach((x, i) => {
          if (frame + i >= first && frame + i < last) sound[frame + i - first] = x;
        });
      }
      return sound;
    },
  };
}
