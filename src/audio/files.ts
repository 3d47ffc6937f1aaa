import { fail, ok, PARTS, type NoteSource, type Part, type Result, type Trouble } from '../engine/index.ts';
import type { SoundFile, SoundFormat, SoundRequest } from '../ui/ports.ts';
import { channelOf, FIRST_LINEUP, instrumentsOf } from './band/index.ts';
import { breath } from './breath.ts';
import { gainFor, mastered } from './master/index.ts';
import { isHeard } from './mixer/index.ts';
import { renderOffline } from './render.ts';
import { loadSounds } from './sounds/index.ts';

/** Takes the samples of a file, both channels, piece by piece, and makes the file of them. */
export interface Encoder {
  /** What the file is; a WAV file where nothing is said. */
  readonly kind?: { readonly type: string; readonly extension: string };
  add(channels: readonly Float32Array[]): void | Promise<void>;
  end(): readonly BlobPart[] | Promise<readonly BlobPart[]>;
}
export type Encode = (format: SoundFormat, frames: number) => Encoder | Promise<Encoder>;

/** How the making of files is watched and called off. */
export interface Watch {
  readonly signal: AbortSignal;
  /** Told the share done, 0 to 1. */
  readonly onProgress: (share: number) => void;
}

/** Seconds after the last beat in which what rings dies away, and over which it is faded at their end. */
const TAIL = { length: 3, fade: 0.5 } as const;

/** What is made where nothing else is asked for. */
export const WAV = { type: 'audio/wav', extension: 'wav' } as const;

/** Shares of the work: a file is rendered, measured, written. */
const RENDERED = 0.8;

const MISSING: Trouble = {
  message: 'The sounds of the band could not all be loaded, so no file was made.',
  remedy: 'Check the connection, then save it once more.',
};
const TOO_LONG: Trouble = {
  message: 'This device has not enough memory for so long a file.',
  remedy: 'Take fewer rounds, or another format.',
};

/**
 * Sound files of what the band plays, through the same graph as it is heard and at the loudness said in
 * `master`. The gain is found for the whole band; a part's file has the same, so that the parts together
 * are the band.
 * @returns null when it was called off
 */
export async function renderFiles(
  request: SoundRequest,
  encode: Encode,
  { signal, onProgress }: Watch,
): Promise<Result<readonly SoundFile[], Trouble> | null> {
  const { source, format } = request;
  const lineup = source.lineup ?? FIRST_LINEUP;
  const pause = async () => {
    signal.throwIfAborted();
    await breath();
  };
  const parts = request.byPart ? partsIn(request) : [];
  const runs = 1 + parts.length;
  let run = 0;
  const progress = (share: number) => onProgress((run + share) / runs);

  const sound = async (of: NoteSource) => {
    const { from, to, tempo, mix, tone } = request;
    const rendered = await renderOffline(of, {
      ...{ from, to, tempo, mix, tone, lineup, signal },
      sampleRate: format.sampleRate,
      tail: TAIL.length,
      onProgress: (share) => progress(RENDERED * share),
    });
    return fadeOut(rendered);
  };
  const write = async (whole: AudioBuffer, gain: number, part: Part | null): Promise<SoundFile> => {
    const encoder = await encode(format, whole.length);
    for (const piece of mastered(whole, gain)) {
      await encoder.add(piece);
      await pause();
    }
    progress(1);
    run++;
    const { type, extension } = encoder.kind ?? WAV;
    const file = new Blob([...(await encoder.end())], { type });
    return { part, file, extension, length: whole.duration };
  };

  try {
    const needed = instrumentsOf(lineup);
    const { loaded } = await loadSounds(format.sampleRate, needed);
    if (needed.some((instrument) => !loaded.includes(instrument))) return fail(MISSING);
    const whole = await sound(source);
    const gain = await gainFor(whole, pause);
    if (!request.byPart) return ok([await write(whole, gain, null)]);
    run++;
    const files: SoundFile[] = [];
    for (const part of parts) files.push(await write(await sound(only(source, part)), gain, part));
    return ok(files);
  } catch (reason) {
    if (signal.aborted) return null;
    // What a browser throws where a buffer or a blob finds no room.
    if (reason instanceof RangeError || reason instanceof DOMException) return fail(TOO_LONG);
    throw reason;
  }
}

/** The parts that are heard somewhere between `from` and `to`. */
function partsIn({ source, from, to, mix }: SoundRequest): readonly Part[] {
  const notes = source.notes(from, to);
  const heard = new Set(notes.filter((note) => isHeard(mix, channelOf(note))).map(({ part }) => part));
  return PARTS.filter((part) => heard.has(part));
}

/** One part of a source, at its tempi; the count-in goes with the click. */
function only(source: NoteSource, part: Part): NoteSource {
  return {
    notes: (from, to) => source.notes(from, to).filter((note) => note.part === part),
    tempi: (from, to) => source.tempi?.(from, to) ?? [],
  };
}

function fadeOut(sound: AudioBuffer): AudioBuffer {
  const frames = Math.round(TAIL.fade * sound.sampleRate);
  for (let c = 0; c < sound.numberOfChannels; c++) {
    const end = sound.getChannelData(c).subarray(-frames);
    end.forEach((x, i) => (end[i] = x * Math.cos((Math.PI / 2) * ((i + 1) / frames)) ** 2));
  }
  return sound;
}
