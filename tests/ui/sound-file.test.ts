import axe from 'axe-core';
import { describe, expect, it } from 'vitest';
import { beats, FIRST_MIX, ok, ticks } from '../../src/engine/index.ts';
import type { RenderPort, SoundRequest } from '../../src/ui/ports.ts';
import { openPage } from './open.ts';

/** A port that keeps what it is asked for and waits to be told what came of it. */
function fakeRender() {
  const asked: SoundRequest[] = [];
  let signal: AbortSignal | null = null;
  let tell: (made: Awaited<ReturnType<RenderPort['render']>>) => void = () => {};
  let progress: (share: number) => void = () => {};
  const render: RenderPort['render'] = (request, watch) => {
    asked.push(request);
    ({ signal, onProgress: progress } = watch);
    return new Promise((resolve) => {
      tell = resolve;
      watch.signal.addEventListener('abort', () => resolve(null));
    });
  };
  return {
    port: { render },
    asked,
    tell: (made: Parameters<typeof tell>[0]) => tell(made),
    progress: (share: number) => progress(share),
    called: () => signal?.aborted === true,
  };
}

async function openSection(text = 'Dm7 | G7 | Cmaj7 | Cmaj7', set = {}) {
  const render = fakeRender();
  const opened = await openPage(text, set, [], { render: render.port });
  await opened.screen.getByRole('button', { name: 'Files', exact: true }).click();
  await opened.screen.getByRole('heading', { name: 'Sound file' }).click();
  const save = opened.screen.getByRole('button', { name: 'Save as WAV' });
  return { ...opened, render, save };
}

describe('the sound file', () => {
  it('takes the rounds, the count-in, the end and the form that are chosen, in the mix as it stands', async () => {
    const { screen, session, render, save } = await openSection();
    session.mixing.set('bass', { mute: true });
    // Four bars at 120 take eight seconds: fifteen rounds fill two minutes.
    await screen.getByRole('button', { name: /^Rounds.*less$/ }).click();
    await save.click();
    const [first] = render.asked;
    expect(first!.from).toBe(beats(-4));
    expect(first!.source).toHaveProperty('end', first!.to);
    expect(first!.mix).toEqual({ ...FIRST_MIX, bass: { level: 0.8, mute: true } });
    await screen.getByRole('button', { name: 'Cancel', exact: true }).click();

    await screen.getByRole('checkbox', { name: 'Count-in' }).click();
    await screen.getByRole('checkbox', { name: /^Slows down/ }).click();
    await screen.getByRole('checkbox', { name: 'A file for each part' }).click();
    await screen.getByRole('combobox', { name: 'Samples' }).selectOptions('24 bit');
    await screen.getByRole('combobox', { name: 'Rate' }).selectOptions('48 kHz');
    await save.click();
    expect(render.asked[1]).toMatchObject({
      from: 0,
      to: beats(15 * 16),
      byPart: true,
      format: { depth: 24, sampleRate: 48000 },
    });
  });

  it('can be small where the browser compresses, and is a WAV file of every sample where it cannot', async () => {
    const render = fakeRender();
    let kind: string | null = 'm4a';
    const compressed = () => Promise.resolve(kind);
    const { screen } = await openPage('C7', { title: 'A vamp' }, [], {
      render: { ...render.port, compressed },
    });
    await screen.getByRole('button', { name: 'Files', exact: true }).click();
    await screen.getByRole('heading', { name: 'Sound file' }).click();
    await screen.getByRole('radio', { name: 'Small (.m4a)' }).click({ force: true });
    await expect.element(screen.getByRole('combobox', { name: 'Samples' })).not.toBeInTheDocument();
    await screen.getByRole('button', { name: 'Save as .m4a' }).click();
    expect(render.asked[0]).toMatchObject({ compressed: { title: 'A vamp' }, format: { sampleRate: 48000 } });
    await screen.getByRole('button', { name: 'Cancel', exact: true }).click();

    kind = null;
    await screen.getByRole('heading', { name: 'Sound file' }).click();
    await screen.getByRole('heading', { name: 'Sound file' }).click();
    await screen.getByRole('button', { name: 'Save as WAV' }).click();
    expect(render.asked[1]).toMatchObject({ compressed: null, format: { depth: 16, sampleRate: 44100 } });
    await expect.element(screen.getByText(/^Small/)).not.toBeInTheDocument();
  });

  it('shows how far it is, can be called off, and says why it failed', async () => {
    const { screen, session, render, save } = await openSection();
    await save.click();
    render.progress(0.42);
    const bar = screen.getByRole('progressbar', { name: 'Making the sound file' });
    await expect.element(bar).toHaveAttribute('value', '42');
    await screen.getByRole('button', { name: 'Cancel', exact: true }).click();
    expect(render.called()).toBe(true);
    await save.click();
    expect(render.asked).toHaveLength(2);
    render.tell({ ok: false, error: { message: 'No room.', remedy: 'Take fewer rounds.' } });
    await expect.element(screen.getByText('No room. Take fewer rounds.')).toBeVisible();
    await save.click();
    render.tell(ok([]));
    await expect.poll(() => session.notice?.text).toContain('saved');
  });

  it('holds the loop while there is one, or the whole chart', async () => {
    const { screen, session, render, save } = await openSection();
    session.setLoop({ from: beats(4), to: beats(8) });
    await screen.getByRole('checkbox', { name: /^Slows down/ }).click();
    await save.click();
    expect(render.asked[0]!.to % beats(4)).toBe(0);
    expect(render.asked[0]!.source.notes(ticks(0), beats(4))[0]!.why).toBeTruthy();
    await screen.getByRole('button', { name: 'Cancel', exact: true }).click();
    await screen.getByRole('radio', { name: 'The whole chart' }).click();
    await save.click();
    expect(render.asked[1]!.to % beats(16)).toBe(0);
  });

  it('can be used by everybody', async () => {
    const { screen, session, save } = await openSection();
    session.setLoop({ from: beats(4), to: beats(8) });
    const check = async () => {
      const panel = screen.container.querySelector('#panel')!;
      const { violations } = await axe.run(panel, {
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
      });
      return violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]);
    };
    expect(await check()).toEqual([]);
    await save.click();
    expect(await check()).toEqual([]);
  });
});
