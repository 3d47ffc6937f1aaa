import { fail, ok, type Result, type Trouble } from '../../engine/index.ts';
import type { MixdownRequest } from '../../ui/ports.ts';
import { FIRST_LINEUP } from '../band/index.ts';
import { WAV, type Encode } from '../files.ts';
import { gainFor, mastered } from '../master/index.ts';
import { faderGain } from '../mixer/index.ts';
import { renderOffline } from '../render.ts';

const RATE = 48000;
/** Seconds after the last beat in which what rings dies away. */
const TAIL = 2;

const TOO_LONG: Trouble = {
  message: 'This device has not enough memory for so long a file.',
  remedy: 'Save the take alone, or record a shorter one.',
};

/**
 * Band and take as one file, at the loudness of all sound files. The take lies where it is heard, in the
 * middle of the band.
 * @param at how far into the take a tick of the music lies, seconds
 */
export async function mixdown(
  sound: Blob,
  at: (tick: number) => number,
  { source, from, to, tempo, mix, tone, balance }: MixdownRequest,
  encode: Encode,
): Promise<Result<Blob, Trouble>> {
  try {
    const lineup = source.lineup ?? FIRST_LINEUP;
    const band = await renderOffline(source, {
      ...{ from, to, tempo, mix, tone, lineup },
      sampleRate: RATE,
      tail: TAIL,
    });
    const decoder = new OfflineAudioContext(1, 1, RATE);
    const take = (await decoder.decodeAudioData(await sound.arrayBuffer())).getChannelData(0);
    const skip = Math.round(at(from) * RATE);
    const [louder, softer] = [faderGain(balance.guest), faderGain(balance.band)];
    for (let c = 0; c < 2; c++) {
      const channel = band.getChannelData(c);
      channel.forEach((x, i) => (channel[i] = softer * x + louder * (take[i + skip] ?? 0)));
    }
    const pause = () => new Promise<void>((resolve) => setTimeout(resolve));
    const encoder = await encode({ depth: 24, sampleRate: RATE }, band.length);
    for (const piece of mastered(band, await gainFor(band, pause))) {
      await encoder.add(piece);
      await pause();
    }
    return ok(new Blob([...(await encoder.end())], { type: WAV.type }));
  } catch (reason) {
    // What a browser throws where a buffer or a blob finds no room.
    if (reason instanceof RangeError || reason instanceof DOMException) return fail(TOO_LONG);
    throw reason;
  }
}
