import { describe, expect, it, onTestFinished } from 'vitest';
import { FIRST_LINEUP, renderOffline, type Lineup } from '../../src/audio/index.ts';
import { createMixer } from '../../src/audio/mixer/index.ts';
import {
  beats,
  bpm,
  FIRST_MIX,
  PARTS,
  ticks,
  type Level,
  type Mix,
  type NoteEvent,
  type Part,
  type Shelves,
} from '../../src/engine/index.ts';
import { brightness, cut, decibels, peak, rms } from '../helpers/listening.ts';
import { lacking } from '../helpers/lacking.ts';
import { note, sourceOf } from '../helpers/music.ts';
import { drones } from '../helpers/sounds.ts';

const full: Level = { level: 1, mute: false, pan: 0 };
const mixOf = (levels: Partial<Record<Part, Partial<Level>>>): Mix => {
  const of = (part: Part) => ({ ...full, ...levels[part] });
  return { comp: of('comp'), bass: of('bass'), drums: of('drums'), click: of('click'), lead: of('lead') };
};

const WITH_LEAD: Lineup = { ...FIRST_LINEUP, lead: 'guitar' };

function render(
  list: readonly NoteEvent[],
  mix: Mix,
  tone?: Shelves,
  from = ticks(0),
  lineup: Lineup = WITH_LEAD,
) {
  return renderOffline(sourceOf(list), {
    from,
    to: beats(2),
    tempo: bpm(120),
    tail: 0,
    mix,
    lineup,
    sounds: drones(48000),
    ...(tone && { tone }),
  });
}

const long = (part: Part) => note(part, 76, 127, 0, 8);

describe('the mixer', () => {
  it('mutes a part and leaves the others alone', async () => {
    for (const part of PARTS) {
      const muted = mixOf({ [part]: { mute: true } });
      expect(decibels(peak(await render([long(part)], muted))), part).toBeLessThan(-120);
      const other = part === 'click' ? 'bass' : 'click';
      expect(decibels(peak(await render([long(part), long(other)], muted))), part).toBeGreaterThan(-30);
    }
  });

  it('hears a lead where somebody plays it, and as loud as a fader at 0.8 where the mix says nothing of it', async () => {
    const { lead: _, ...band } = mixOf({});
    const at = (mix: Mix, lineup?: Lineup) => render([long('lead')], mix, undefined, ticks(0), lineup);
    const asSet = rms(await at({ ...band, lead: { level: 0.8, mute: false } }));
    expect(rms(await at(band))).toBeCloseTo(asSet, 6);
    expect(peak(await at(band, FIRST_LINEUP))).toBe(0);
  });

  it('lets the count-in be heard though the click is muted, as loud as the click would be', async () => {
    const count = [{ ...note('click', 76, 127, -2, 1), counts: true as const }];
    const counted = (level: number) =>
      render(count, mixOf({ click: { mute: true, level } }), undefined, beats(-2));
    expect(decibels(peak(await counted(1)))).toBeGreaterThan(-30);
    expect(decibels(peak(await counted(0)))).toBeLessThan(-120);
  });

  it('lets only solo parts be heard while there are any, unless they are muted', async () => {
    const solo = mixOf({ bass: { solo: true } });
    expect(decibels(peak(await render([long('click')], solo)))).toBeLessThan(-120);
    expect(decibels(peak(await render([long('bass')], solo)))).toBeGreaterThan(-30);
    const both = mixOf({ bass: { solo: true, mute: true } });
    expect(decibels(peak(await render([long('bass')], both)))).toBeLessThan(-120);
  });

  it('is silent at level 0, full at 1, a quarter of the gain at half way', async () => {
    const at = async (level: number) => rms(await render([long('click')], mixOf({ click: { level } })));
    const whole = await at(1);
    expect(decibels(await at(0))).toBeLessThan(-120);
    expect(decibels((await at(0.5)) / whole)).toBeCloseTo(decibels(0.25), 1);
  });

  it('puts a part to the left or the right', async () => {
    const sound = await render([long('click')], mixOf({ click: { pan: -1 } }));
    const side = (channel: number) => Math.max(...cut(sound, 0, 1, channel));
    expect(decibels(side(0))).toBeGreaterThan(-30);
    expect(decibels(side(1))).toBeLessThan(-100);
  });

  it('tilts the whole band with its shelves, and level shelves change nothing', async () => {
    const list = [note('click', 76, 127, 0, 8)];
    const level = async (tone?: Shelves) => decibels(rms(await render(list, mixOf({}), tone), 0.2, 1));
    const plain = await level();
    expect(await level({ low: 0, high: 0 })).toBeCloseTo(plain, 3);
    expect(await level({ low: 0, high: -9 })).toBeCloseTo(plain, 0);
    const hats = { from: ticks(0), to: beats(2), tempo: bpm(120), tail: 0, mix: FIRST_MIX };
    const bright = async (tone?: Shelves) => {
      const sound = await renderOffline(
        sourceOf([note('bass', 40, 127, 0, 2), note('drums', 51, 90, 0, 1)]),
        {
          ...hats,
          ...(tone && { tone }),
        },
      );
      return brightness(cut(sound, 0.1, 1), 48000);
    };
    expect(await bright({ low: 0, high: 6 })).toBeGreaterThan(1.2 * (await bright()));
    expect(await bright({ low: 6, high: 0 })).toBeLessThan(0.8 * (await bright()));
  });

  it.each([
    ['here', () => () => {}],
    ['in a browser that cannot hold a curve', () => lacking(AudioParam.prototype, 'cancelAndHoldAtTime')],
  ])('moves a fader without a click, %s', async (_, enter) => {
    const leave = enter();
    onTestFinished(leave);
    const context = new OfflineAudioContext(2, 48000, 48000);
    const mixer = await createMixer(context, mixOf({}));
    mixer.open(0);
    const tone = new OscillatorNode(context, { frequency: 50 });
    tone.connect(new GainNode(context, { gain: 0.3 })).connect(mixer.input('click'));
    tone.start();
    void context.suspend(0.5).then(() => {
      mixer.setMix(mixOf({ click: { mute: true } }));
      mixer.setTone({ low: 3, high: -3 });
      void context.resume();
    });
    const sound = (await context.startRendering()).getChannelData(0);
    let step = 0;
    for (let i = 1; i < sound.length; i++) step = Math.max(step, Math.abs(sound[i]! - sound[i - 1]!));
    // A 50 Hz tone at 0.3 moves by 0.002 a frame; a cut would move by up to 0.3.
    expect(step).toBeLessThan(0.02);
    expect(Math.max(...sound.slice(36000))).toBeLessThan(1e-5);
  });
});
