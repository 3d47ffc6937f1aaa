import { expect, it, vi } from 'vitest';
import { page } from 'vitest/browser';
import { fail, ok, type Result, type Trouble } from '../../src/engine/index.ts';
import type { MidiOutlet, MidiOutPort } from '../../src/ui/ports.ts';
import { openPage } from './open.ts';

const PIANO: MidiOutlet = { id: 'p', name: 'Stage piano' };
const MODULE: MidiOutlet = { id: 'm', name: 'Sound module' };

/** A port whose instruments the test plugs in. */
function port(answer: Result<readonly MidiOutlet[], Trouble>, possible = true) {
  let told: (outlets: readonly MidiOutlet[], used: string | null) => void = () => {};
  let outlets = answer.ok ? answer.value : [];
  const out = {
    possible,
    connect: vi.fn(() => Promise.resolve(answer)),
    use: vi.fn((id: string | null) => told(outlets, id)),
    setChannels: vi.fn(),
    watch(listener: typeof told) {
      told = listener;
      listener(outlets, null);
      return () => {};
    },
  } satisfies MidiOutPort;
  return {
    out,
    plug: (...now: readonly MidiOutlet[]) => {
      outlets = now;
      told(now, null);
    },
  };
}

async function open(out: MidiOutPort) {
  const opened = await openPage('| C7alt |', {}, [], { midiOut: out });
  await page.getByRole('button', { name: 'Band', exact: true }).click();
  await page.getByText('MIDI instrument').click();
  return opened;
}

it('asks for MIDI only when Connect is pressed, and plays at once where there is one instrument', async () => {
  const { out } = port(ok([PIANO]));
  await open(out);
  expect(out.connect).not.toHaveBeenCalled();
  await page.getByRole('button', { name: 'Connect' }).click();
  expect(out.use).toHaveBeenLastCalledWith('p');
  await expect.element(page.getByLabelText('Plays on')).toHaveValue('p');
});

it('lets the player choose among several, and none', async () => {
  const { out } = port(ok([PIANO, MODULE]));
  await open(out);
  await page.getByRole('button', { name: 'Connect' }).click();
  expect(out.use).not.toHaveBeenCalled();
  await page.getByLabelText('Plays on').selectOptions('Sound module');
  expect(out.use).toHaveBeenLastCalledWith('m');
  await page.getByLabelText('Plays on').selectOptions('none');
  expect(out.use).toHaveBeenLastCalledWith(null);
});

it('sends each part on the channel set for it, and remembers it', async () => {
  const { out } = port(ok([PIANO]));
  const { session } = await open(out);
  expect(out.setChannels).toHaveBeenLastCalledWith({ comp: 0, bass: 1, drums: 9, lead: 2, click: null });
  await page.getByRole('button', { name: 'Connect' }).click();
  await page.getByLabelText('Chords by MIDI').selectOptions('channel 5');
  await page.getByLabelText('Drums by MIDI').selectOptions('not sent');
  expect(out.setChannels).toHaveBeenLastCalledWith({ comp: 4, bass: 1, drums: null, lead: 2, click: null });
  expect(session.preferences.values.midiChannels).toMatchObject({ comp: 5, drums: 0 });
});

it('says what is wrong, and that nothing is plugged in', async () => {
  const refused = port(
    fail({ message: 'The browser does not let this page use MIDI.', remedy: 'Allow it.' }),
  );
  await open(refused.out);
  await page.getByRole('button', { name: 'Connect' }).click();
  await expect
    .element(page.getByText('The browser does not let this page use MIDI. Allow it.'))
    .toBeVisible();
});

it('shows an instrument as it is plugged in', async () => {
  const { out, plug } = port(ok([]));
  await open(out);
  await page.getByRole('button', { name: 'Connect' }).click();
  await expect.element(page.getByText(/No MIDI instrument is plugged in/)).toBeVisible();
  plug(PIANO);
  await expect.element(page.getByRole('option', { name: 'Stage piano' })).toBeInTheDocument();
});

it('says plainly where the browser knows no MIDI', async () => {
  await open(port(ok([]), false).out);
  await expect.element(page.getByText(/This browser knows no MIDI/).first()).toBeVisible();
});
