import { describe, expect, it } from 'vitest';
import { FIRST_MIX, newProject } from '../../src/engine/index.ts';
import { openPage, sessionOf } from './open.ts';

async function openMixer() {
  const opened = await openPage('C7');
  await opened.screen.getByRole('button', { name: 'Band', exact: true }).click();
  await expect.element(opened.screen.getByRole('slider', { name: 'Level of Bass' })).toBeInTheDocument();
  const slide = (name: string, value: string) => {
    const slider = opened.screen.getByRole('slider', { name }).element() as HTMLInputElement;
    slider.value = value;
    slider.dispatchEvent(new Event('input', { bubbles: true }));
  };
  const press = (name: string) => opened.screen.getByRole('button', { name, exact: true }).click();
  return { ...opened, slide, press };
}

describe('the mixer', () => {
  it('sets level, side, mute and solo of each part, and the player hears it', async () => {
    const { player, slide, press } = await openMixer();
    await press('Mute Bass');
    expect(player.mix?.bass).toEqual({ level: 0.8, mute: true });
    slide('Level of Drums', '0.25');
    slide('Side of Drums', '1');
    await press('Solo Drums');
    expect(player.mix?.drums).toEqual({ level: 0.25, mute: false, pan: 1, solo: true });
    await press('Solo Drums');
    expect(player.mix?.drums).toEqual({ level: 0.25, mute: false, pan: 1 });
  });

  it('has all sliders end in one line', async () => {
    const { screen } = await openMixer();
    await expect.element(screen.getByRole('slider', { name: 'Tone, low end' })).toBeInTheDocument();
    const ends = screen
      .getByRole('slider', { name: /^(Level|Side|Tone)/ })
      .elements()
      .map((slider) => Math.round(slider.getBoundingClientRect().right));
    expect(ends.length).toBeGreaterThan(9);
    expect(new Set(ends).size).toBe(1);
  });

  it('tilts the whole band in whole decibels', async () => {
    const { screen, player, slide } = await openMixer();
    slide('Tone, low end', '0.63');
    expect(player.tone).toEqual({ low: 3, high: 0 });
    await expect
      .element(screen.getByRole('slider', { name: 'Tone, low end' }))
      .toHaveAttribute('aria-valuetext', '+3 dB');
  });

  it('goes back to the first mix, and undo answers that as it does every move', async () => {
    const { screen, session, player, slide, press } = await openMixer();
    await expect.element(screen.getByRole('button', { name: 'Back to the first mix' })).toBeDisabled();
    slide('Level of Bass', '0.5');
    slide('Level of Bass', '0.4');
    slide('Tone, high end', '0');
    await press('Back to the first mix');
    expect(player.mix).toEqual(FIRST_MIX);
    expect(player.tone).toEqual({ low: 0, high: 0 });
    await screen.getByRole('status').getByRole('button', { name: 'Take back' }).click();
    expect(player.mix?.bass.level).toBe(0.4);
    expect(player.tone).toEqual({ low: 0, high: -12 });
    session.undo();
    session.undo();
    expect(player.mix).toEqual(FIRST_MIX);
    expect(session.undoWhat).toBeNull();
  });

  it('is kept with the chart', () => {
    const { session, kept } = sessionOf('C7');
    session.mixing.set('bass', { solo: true });
    session.mixing.setTone({ low: -2 });
    expect(kept.at(-1)!.mix.bass).toEqual({ level: 0.8, mute: false, solo: true });
    expect(kept.at(-1)!.tone).toEqual({ low: -2, high: 0 });
  });

  it('comes with a chart that has a mix of its own, and stays as it is for one that has none', () => {
    const { session, player } = sessionOf('C7');
    session.mixing.set('comp', { mute: true });
    session.open(newProject({ text: 'F7' }));
    expect(player.mix?.comp.mute).toBe(true);
    session.open(newProject({ id: 'mine', text: 'Bb7' }));
    expect(player.mix?.comp.mute).toBe(false);
    const other = { ...FIRST_MIX, bass: { level: 0.1, mute: false } };
    session.open(newProject({ text: 'Eb7', mix: other, tone: { low: 1, high: 0 } }));
    expect(player.mix).toEqual(other);
    expect(player.tone).toEqual({ low: 1, high: 0 });
  });
});
