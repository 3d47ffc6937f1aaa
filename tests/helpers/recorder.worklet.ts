declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare const currentFrame: number;
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;

/** Sends on every block it hears, with the frame of the audio clock at which it begins. */
class Recorder extends AudioWorkletProcessor {
  process([input]: Float32Array[][]): boolean {
    this.port.postMessage({ frame: currentFrame, samples: input?.[0]?.slice() ?? new Float32Array(128) });
    return true;
  }
}

registerProcessor('recorder', Recorder);
