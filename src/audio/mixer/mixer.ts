import { PanVol } from 'tone/build/esm/component/channel/PanVol.js';
import { BiquadFilter } from 'tone/build/esm/component/filter/BiquadFilter.js';
import type { Context } from 'tone/build/esm/core/context/Context.js';
import { connect } from 'tone/build/esm/core/context/ToneAudioNode.js';
import { FIRST_MIX, levelOf, PARTS, USUAL_PAN, type Mix, type Shelves } from '../../engine/index.ts';
import type { Balance, Channel } from '../types.ts';
import { PRESENCE, ROOM_SHARE } from './data.ts';
import { createOutput, createUnfinished, type Output } from './output.ts';
import { wrap } from './tone.ts';

/**
 * Time in which a fader comes within a twentieth of its new place, seconds: too short to hear as a move,
 * long enough not to click.
 */
const GLIDE = 0.03;
/** Time constant and length of the fade at stop, seconds. */
const FADE = { constant: 0.006, length: 0.045 } as const;

/** How long before the gate opens the room is cleared: more than any block of the audio clock, seconds. */
const CLEAR = 0.015;

/** Corner frequencies of the shelves, Hz. */
const SHELVES = { low: 160, high: 4500 } as const;

const CHANNELS: readonly Channel[] = [...PARTS, 'count'];

/** What a fader moves: a parameter of the browser's or of Tone's, in the unit it is set in. */
interface Moving {
  setTargetAtTime(value: number, from: number, constant: number): unknown;
  cancelScheduledValues(from: number): unknown;
}

/** A part's way to the sum. */
interface Strip {
  readonly input: GainNode;
  readonly channel: PanVol;
}

/**
 * Parts into a stereo sum: level, mute, solo and pan per part, a room they share, shelves over all,
 * the limiter, a gate that opens at start and closes at stop.
 */
export class Mixer {
  readonly #context: BaseAudioContext;
  readonly #tone: Context;
  readonly #strips: Readonly<Record<Channel, Strip>>;
  /** What the parts, and what the parts' share for the room, come together in. */
  readonly #sum: GainNode;
  readonly #send: GainNode;
  readonly #output: Output;
  readonly #gate: GainNode;
  #guest: GainNode | null = null;
  #used = false;
  /** Made when first asked for: level shelves change nothing but cost time. */
  #shelves: { readonly low: BiquadFilter; readonly high: BiquadFilter } | null = null;

  constructor(context: BaseAudioContext, destination: AudioNode, output: Output, mix: Mix) {
    this.#context = context;
    this.#tone = wrap(context);
    this.#output = output;
    this.#sum = new GainNode(context);
    this.#send = new GainNode(context);
    this.#gate = new GainNode(context, { gain: 0 });
    output.connectBand(this.#sum);
    output.connectRoom(this.#send);
    output.node.connect(this.#gate).connect(destination);
    const strip = (channel: Channel) => this.#strip(channel, mix);
    this.#strips = {
      comp: strip('comp'),
      bass: strip('bass'),
      drums: strip('drums'),
      click: strip('click'),
      count: strip('count'),
      lead: strip('lead'),
    };
  }

  /** By how many seconds the sound leaves later than it was asked for. */
  get delay(): number {
    return this.#output.delay;
  }

  /** Where the voices of a part, or of the count-in, are connected. */
  input(channel: Channel): AudioNode {
    return this.#strips[channel].input;
  }

  setMix(mix: Mix): void {
    for (const name of CHANNELS) {
      const { channel } = this.#strips[name];
      const { volume, pan } = settings(mix, name);
      this.#glide(channel.volume, volume);
      this.#glide(channel.pan, pan);
    }
  }

  setTone(tone: Shelves): void {
    if (this.#shelves === null && tone.low === 0 && tone.high === 0) return;
    this.#shelves ??= this.#insertShelves();
    this.#glide(this.#shelves.low.gain, tone.low);
    this.#glide(this.#shelves.high.gain, tone.high);
  }

  /** Where a recording that is heard with the band is connected: it goes past the band's tone and room. */
  guest(): GainNode {
    if (this.#guest === null) {
      this.#guest = new GainNode(this.#context);
      this.#output.connectBand(this.#guest);
    }
    return this.#guest;
  }

  /** Weighs band and guest against each other, by the position of a fader for each. */
  setBalance({ band, guest }: Balance): void {
    if (this.#guest === null && band === 1 && guest === 1) return;
    this.#glide(this.#sum.gain, faderGain(band));
    this.#glide(this.#send.gain, faderGain(band));
    this.#glide(this.guest().gain, faderGain(guest));
  }

  /** Lets the sound out from `when` on, which lies after the end of the last fade; the room has forgotten what was played before. */
  open(when: number): void {
    // The message takes its own time: a fresh room is left alone, so that renders repeat.
    if (this.#used) this.#output.clear(when - CLEAR);
    this.#used = true;
    this.#gate.gain.setValueAtTime(1, when);
  }

  /** Fades to silence within {@link FADE}. */
  shut(): void {
    const now = this.#context.currentTime;
    this.#gate.gain.cancelScheduledValues(now);
    this.#gate.gain.setTargetAtTime(0, now, FADE.constant);
    this.#gate.gain.setValueAtTime(0, now + FADE.length);
  }

  /** Takes the graph apart. */
  dispose(): void {
    for (const strip of Object.values(this.#strips)) {
      strip.input.disconnect();
      strip.channel.dispose();
    }
    this.#sum.disconnect();
    this.#send.disconnect();
    this.#guest?.disconnect();
    this.#shelves?.low.dispose();
    this.#shelves?.high.dispose();
    this.#output.node.disconnect();
    this.#gate.disconnect();
  }

  /** Tone's own ramps first hold a value where it stands, for which Firefox has no method. */
  #glide(param: Moving, value: number): void {
    const now = this.#context.currentTime;
    param.cancelScheduledValues(now);
    param.setTargetAtTime(value, now, GLIDE / 3);
  }

  #strip(name: Channel, mix: Mix): Strip {
    const input = new GainNode(this.#context);
    const channel = new PanVol({ context: this.#tone, channelCount: 2 });
    const { volume, pan } = settings(mix, name);
    channel.volume.value = volume;
    channel.pan.value = pan;
    const presence = PRESENCE[name];
    if (presence === undefined) connect(input, channel);
    else {
      const shelf = new BiquadFilterNode(this.#context, { type: 'highshelf', ...presence });
      connect(input.connect(shelf), channel);
    }
    connect(channel, this.#sum);
    const room = ROOM_SHARE[name];
    if (room > -Infinity) {
      const amount = new GainNode(this.#context, { gain: 10 ** (room / 20) });
      connect(channel, amount);
      amount.connect(this.#send);
    }
    return { input, channel };
  }

  /** Level shelves let the sound through unchanged, so that they can be put in while it plays. */
  #insertShelves() {
    const shelf = (type: 'lowshelf' | 'highshelf', frequency: number) =>
      new BiquadFilter({ context: this.#tone, type, frequency, gain: 0 });
    const [low, high] = [shelf('lowshelf', SHELVES.low), shelf('highshelf', SHELVES.high)];
    low.connect(high);
    this.#output.connectBand(high.output);
    this.#sum.disconnect();
    connect(this.#sum, low);
    return { low, high };
  }
}

/** Builds a shut mixer on a context, live or offline, that already stands as `mix` asks. */
export async function createMixer(
  context: BaseAudioContext,
  mix: Mix = FIRST_MIX,
  destination: AudioNode = context.destination,
): Promise<Mixer> {
  return new Mixer(context, destination, await createOutput(context), mix);
}

/** A mixer for a file: its four channels are those of {@link createUnfinished}. */
export function createDryMixer(context: BaseAudioContext, mix: Mix): Mixer {
  return new Mixer(context, context.destination, createUnfinished(context), mix);
}

/** The strip's volume in dB and its pan. */
function settings(mix: Mix, name: Channel): { volume: number; pan: number } {
  const part = partOf(name);
  const { level, pan = USUAL_PAN[part] } = levelOf(mix, part);
  return { volume: isHeard(mix, name) ? 20 * Math.log10(faderGain(level)) : -Infinity, pan };
}

/** Whether a channel is let through at all. */
export function isHeard(mix: Mix, name: Channel): boolean {
  const { level, mute, solo } = levelOf(mix, partOf(name));
  const soloed = PARTS.some((other) => mix[other]?.solo === true);
  return level > 0 && (name === 'count' || (!mute && (!soloed || solo === true)));
}

const partOf = (name: Channel) => (name === 'count' ? 'click' : name);

/** A fader moves loudness about evenly when its gain goes with the square of its position (our choice). */
export const faderGain = (level: number) => level ** 2;
