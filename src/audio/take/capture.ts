import processorUrl from './capture.worklet.ts?worker&url';

/** A piece of what the microphone heard, from a frame of the audio clock on. */
export interface Block {
  readonly frame: number;
  readonly samples: Float32Array<ArrayBuffer>;
}

/** Listens to a source on the audio clock; what is heard goes nowhere else. */
export class Capture {
  onBlock: ((block: Block) => void) | null = null;
  readonly #source: AudioNode;
  readonly #node: AudioWorkletNode;
  readonly #mute: GainNode;
  #closed = false;

  static async of(source: AudioNode): Promise<Capture> {
    await source.context.audioWorklet.addModule(processorUrl);
    return new Capture(source);
  }

  private constructor(source: AudioNode) {
    const { context } = source;
    this.#source = source;
    this.#node = new AudioWorkletNode(context, 'capture', { channelCount: 1, channelCountMode: 'explicit' });
    // A node that leads nowhere is not run by every browser: this way leads into silence.
    this.#mute = new GainNode(context, { gain: 0 });
    source.connect(this.#node).connect(this.#mute).connect(context.destination);
    this.#node.port.onmessage = ({ data }: MessageEvent<Block>) => this.onBlock?.(data);
  }

  close(): void {
    if (this.#closed) return;
    this.#closed = true;
    this.onBlock = null;
    this.#source.disconnect(this.#node);
    this.#node.disconnect();
    this.#mute.disconnect();
    this.#node.port.close();
  }
}
