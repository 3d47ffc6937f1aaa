import { describe, expect, it } from 'vitest';
import { page } from 'vitest/browser';
import { beats, newProject, PPQ, ticks, type Performance } from '../../src/engine/index.ts';
import { decodeLink, encodeLink, FILE_ENDING, readProject, writeProject } from '../../src/storage/index.ts';
import { openPage, openSheet, sessionOf } from './open.ts';

const CHART = 'Dm7 | G7 | Cmaj7 | A7 |';

describe('the band sheet', () => {
  it('says in one line each what can be chosen on a phone', async () => {
    const opened = await openPage(CHART);
    await page.viewport(360, 740);
    await openSheet(opened, 'Band');
    const captions = () => [...opened.screen.container.querySelectorAll('#panel .explained label span')];
    await expect.poll(() => captions().length).toBeGreaterThanOrEqual(7);
    const broken = captions().filter((one) => one.getBoundingClientRect().height > 30);
    expect(broken.map(({ textContent }) => textContent)).toEqual([]);
  });

  it('names a treatment that is not heard any more, and takes it away', async () => {
    const { screen, session } = await openPage(CHART);
    session.place({ from: beats(4), to: beats(6) }, 'altered');
    session.editing.replaceChord(1, 0, 'Gm7');
    await screen.getByRole('button', { name: 'Band', exact: true }).click();
    await expect.element(screen.getByText('Bar 2 holds Gm7 now, no dominant.')).toBeVisible();
    await screen.getByRole('button', { name: /^Remove .* in bar 2$/ }).click();
    expect(session.layers.placed).toEqual([]);
    session.undo();
    expect(session.layers.placed).toHaveLength(1);
  });

  it('hands the chords to another instrument and takes the choice back to the usual one', async () => {
    const { screen, session } = await openPage(CHART);
    await screen.getByRole('button', { name: 'Band', exact: true }).click();
    await screen.getByRole('combobox', { name: 'Chords on' }).selectOptions('guitar');
    expect(session.settings.chords).toBe('guitar');
    await screen.getByRole('combobox', { name: 'Time feel' }).selectOptions('half');
    await screen.getByRole('combobox', { name: 'Time feel' }).selectOptions('');
    expect('time' in session.settings).toBe(false);
  });

  it('says of every choice what it does, and sets the bass, the comping and the count', async () => {
    const { screen, session } = await openPage(CHART);
    await screen.getByRole('button', { name: 'Band', exact: true }).click();
    await screen.getByRole('combobox', { name: 'Comping rhythm' }).selectOptions('four');
    await expect
      .element(screen.getByText('A short chord on every beat, as a rhythm guitar plays.'))
      .toBeVisible();
    await screen.getByRole('combobox', { name: 'Pedal' }).selectOptions('fifth');
    await screen.getByRole('combobox', { name: 'It is held' }).selectOptions('throughout');
    await screen.getByRole('combobox', { name: 'Comes to the next root' }).selectOptions('tritone');
    expect(session.settings).toMatchObject({
      comping: 'four',
      pedal: { on: 'fifth', where: 'throughout' },
      approach: 'tritone',
    });
    await screen.getByRole('combobox', { name: 'Pedal' }).selectOptions('');
    expect('pedal' in session.settings).toBe(false);
    await screen.getByRole('radio', { name: 'Sticks' }).click();
    expect(session.plan.settings.count).toBe('sticks');
    expect('count' in session.settings).toBe(false);
    session.set({ feel: 'straight-sixteenths' }, 'Feel');
    await expect.element(screen.getByText(/no other way of being played in two/)).toBeVisible();
  });

  it('takes all hits away at once, and undo brings them back', async () => {
    const { screen, session } = await openPage(CHART);
    const hit = { bar: 0, accent: 'strong', length: 'short', by: 'band', stop: false } as const;
    session.setHits(
      [
        { id: 'h1', at: beats(0), ...hit },
        { id: 'h2', at: beats(1), ...hit },
      ],
      'Hits',
    );
    await screen.getByRole('button', { name: 'Band', exact: true }).click();
    await screen.getByRole('button', { name: 'Remove all hits (2)' }).click();
    expect(session.project.hits).toEqual([]);
    session.undo();
    expect(session.project.hits).toHaveLength(2);
  });

  it('leaves bars to the player', async () => {
    const { screen, session } = await openPage(CHART);
    await screen.getByRole('button', { name: 'Band', exact: true }).click();
    await screen.getByRole('combobox', { name: 'Bars for you' }).selectOptions('4/8/drums');
    expect(session.settings.trade).toEqual({ bars: 4, every: 8, goesOn: 'drums' });
  });
});

describe('the end', () => {
  it('comes when it is asked for: the round is played out, the last chord rings, the band stops', async () => {
    const { session, player } = sessionOf(CHART);
    await session.play();
    player.at = beats(1.5);
    session.playing.finish();
    const { end } = player.source as Performance;
    expect(end).toBeGreaterThan(beats(16));
    player.at = end! + 1;
    session.playing.look();
    expect(session.playing.on).toBe(true);
    player.at = end! + 2 * PPQ;
    session.playing.look();
    expect(session.playing.on).toBe(false);
  });

  it('has a button beside Stop, with the choice of section or round and a word on each', async () => {
    const { screen, session, player } = await openPage('[A] Bb6 | Cm7 | F7 | Bb6 | [B] D7 | G7 | C7 | F7');
    await session.play();
    player.at = beats(0.5);
    session.playing.look();
    await screen.getByRole('button', { name: 'End', exact: true }).click();
    await expect
      .element(
        screen.getByRole('button', { name: /end of this round Slows down in bars 7 and 8, then holds B♭6/ }),
      )
      .toBeVisible();
    await screen
      .getByRole('button', { name: /end of this section Slows down in bars 3 and 4, then holds B♭6/ })
      .click();
    expect((player.source as Performance).ending!.slows).toBe(beats(8));
    await expect.element(screen.getByText('Slows down in bars 3 and 4, then holds B♭6.')).toBeVisible();
    await expect.element(screen.getByRole('button', { name: 'Ending' })).toBeDisabled();
  });

  it('needs no choice where there is one section', async () => {
    const { screen, session, player } = await openPage(CHART);
    await session.play();
    player.at = beats(0.5);
    session.playing.look();
    await screen.getByRole('button', { name: 'End', exact: true }).click();
    expect((player.source as Performance).ending!.slows).toBe(beats(8));
  });

  it('moves nothing beside it on a phone once it was pressed', async () => {
    const { screen, session, player } = await openPage(CHART);
    await page.viewport(360, 740);
    await session.play();
    player.at = beats(0.5);
    session.playing.look();
    const alter = () => screen.container.querySelector('.dock .touch')!.getBoundingClientRect().left;
    const button = screen.getByRole('button', { name: 'End', exact: true });
    await expect.element(button).toBeVisible();
    const before = alter();
    await button.click();
    await expect.element(screen.getByRole('button', { name: 'Ending' })).toBeVisible();
    expect(alter()).toBe(before);
    session.playing.stop();
  });

  it('is not undone by an edit after the music has begun to slow down', async () => {
    const { session, player } = sessionOf(CHART);
    await session.play();
    session.playing.finish();
    const source = player.source;
    player.at = beats(15);
    session.editing.replaceChord(0, 0, 'Fm7');
    expect(player.source).toBe(source);
  });
});

describe('a chart handed over', () => {
  it('comes back from its link and its file with the mix, and another chart does not take its place', async () => {
    const { session, kept } = sessionOf(CHART);
    session.mixing.set('bass', { level: 0.25 });
    const linked = await decodeLink(await encodeLink(session.project));
    const filed = readProject(writeProject(session.project));
    for (const back of [linked, filed]) {
      expect(back.ok && back.value.project).toEqual({ ...session.project, id: '' });
    }
    session.open(newProject({ title: 'One' }));
    session.open(newProject({ title: 'Two' }));
    const [one, two] = kept.slice(-2);
    expect(one!.id).not.toBe('');
    expect(two!.id).not.toBe(one!.id);
  });

  it('opens from a file, with a word on what was not understood', async () => {
    const exchange = {
      write: writeProject,
      read: readProject,
      link: encodeLink,
      readLink: decodeLink,
      ending: FILE_ENDING,
    };
    const { screen, session } = await openPage('C7alt', {}, [], { exchange });
    await screen.getByRole('button', { name: 'Files', exact: true }).click();
    const file = new File(['{ "vampwright": 1, "chart": ["Fm7 | Bb7"], "tempo": 9000 }'], 'study.json');
    await screen.getByLabelText('Open a file').upload(file);
    await expect.element(screen.getByText(/Not everything was understood: tempo/)).toBeVisible();
    expect(session.text).toBe('Fm7 | Bb7');
    expect(session.form.length).toBe(ticks(2 * 4 * PPQ));
  });
});
