import { FrameClock } from '../../src/audio/take/frame-clock.ts';

declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare const currentFrame: number;
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;

/** Sends on every block it hears, with the frame of the audio clock at which it begins. */
class Recorder extends AudioWorkletProcessor {
  readonly #clock = new FrameClock();

  process([input]: Float32Array[][]): boolean {
    this.port.postMessage({
      frame: this.#clock.next(currentFrame),
      samples: input?.[0]?.slice() ?? new Float32Array(128),
    });
    return true;
  }
}

registerProcessor('recorder', Recorder);
