import { fail, ok, type Result, type Trouble } from '../../engine/index.ts';

/** An open microphone. */
export interface Microphone {
  readonly node: AudioNode;
  /** Its name, as the device gives it. */
  readonly label: string;
  /** How late it says its sound is, seconds; null where it does not say. */
  readonly latency: number | null;
  /** Called when the microphone is gone. */
  onlost: (() => void) | null;
  close(): void;
}

export type OpenMicrophone = (context: AudioContext) => Promise<Result<Microphone, Trouble>>;

/** Why there is no microphone, in words, by the browser's names (Media Capture and Streams, getUserMedia). */
const TROUBLES: Readonly<Record<string, Trouble>> = {
  NotAllowedError: {
    message: 'The browser does not let this page use the microphone.',
    remedy: 'Allow it beside the address and press record again. Everything else works without.',
  },
  NotFoundError: {
    message: 'No microphone was found.',
    remedy: 'Plug one in, or an audio interface, and press record again.',
  },
  NotReadableError: {
    message: 'The microphone cannot be opened: another program may hold it.',
    remedy: 'Close that program, or choose another microphone in the browser, and press record again.',
  },
  NotSupportedError: {
    message: 'The microphone runs at another rate than the band, and this browser cannot join the two.',
    remedy: 'Set microphone and loudspeaker to the same sample rate, e.g. 48000 Hz, and load the page again.',
  },
};
const UNKNOWN: Trouble = {
  message: 'The microphone cannot be used here.',
  remedy:
    'Open the page over https or on this computer, in a current browser. Everything else works without.',
};

/** Said when the microphone is gone while it records. */
export const LOST: Trouble = {
  message: 'The microphone is gone, so the take ends here.',
  remedy: 'What was recorded is kept. Plug the microphone in and press record again.',
};

/** Asks for the microphone, raw: what browsers do for speech would cut a guitar to pieces. */
export const openMicrophone: OpenMicrophone = async (context) => {
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false },
    });
    return ok(microphoneOf(context, stream));
  } catch (reason) {
    const name = reason instanceof Error || reason instanceof DOMException ? reason.name : '';
    return fail((Object.hasOwn(TROUBLES, name) && TROUBLES[name]) || UNKNOWN);
  }
};

/** A stream with sound in it as a microphone. */
export function microphoneOf(context: AudioContext, stream: MediaStream): Microphone {
  const track = stream.getAudioTracks()[0]!;
  const { latency } = track.getSettings() as { latency?: number };
  const microphone: Microphone = {
    node: context.createMediaStreamSource(stream),
    label: track.label || 'Microphone',
    latency: latency ?? null,
    onlost: null,
    close() {
      microphone.onlost = null;
      for (const each of stream.getTracks()) each.stop();
    },
  };
  track.onended = () => microphone.onlost?.();
  return microphone;
}
