import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { page } from 'vitest/browser';
import { readText } from '../../src/engine/index.ts';
import { scores } from '../../src/export/index.ts';
import { openPage } from './open.ts';
import { eventually } from '../helpers/eventually.ts';

/** What the page hands to the browser to be saved. */
const saved: { name: string; file: Blob }[] = [];
let latest: Blob | null = null;

beforeEach(() => {
  saved.length = 0;
  const create = URL.createObjectURL.bind(URL);
  vi.spyOn(URL, 'createObjectURL').mockImplementation((file) => {
    if (file instanceof Blob) latest = file;
    return create(file);
  });
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
    saved.push({ name: this.download, file: latest! });
  });
});
afterEach(() => vi.restoreAllMocks());

async function openFiles(text: string) {
  const opened = await openPage(text, { title: 'Blues in B♭' }, [], { scores });
  await page.getByRole('button', { name: 'Files', exact: true }).click();
  await page.getByText('Other programs').click();
  return opened;
}

const bytes = async ({ file }: { file: Blob }) => new Uint8Array(await file.arrayBuffer());
const press = (name: string) => page.getByRole('button', { name }).click();
const sheet = (text: string) =>
  new File([text], 'Study in F.musicxml', { type: 'application/vnd.recordare.musicxml+xml' });
const HARMONY = '<harmony><root><root-step>F</root-step></root><kind>dominant</kind></harmony>';
const score = (measure: string) =>
  `<score-partwise><part-list/><part id="P1"><measure number="1">${measure}</measure></part></score-partwise>`;

it('saves the band as MIDI, as long as the rounds asked for', async () => {
  await openFiles('| Bb7 | Eb7 |');
  await press('Save as MIDI');
  await press('Rounds: more');
  await press('Save as MIDI');
  await eventually(() => expect(saved).toHaveLength(2));
  const [one, two] = await Promise.all(saved.map(bytes));
  expect(saved[0]!.name).toBe('Blues in Bb.mid');
  expect(new TextDecoder().decode(one!.subarray(0, 4))).toBe('MThd');
  expect(two!.length).toBeGreaterThan(one!.length * 1.2);
});

it('saves the lead sheet, compressed on request', async () => {
  await openFiles('| Bb7 | Eb7 |');
  await press('Save as MusicXML');
  await page.getByRole('checkbox', { name: 'Compressed (.mxl)' }).click();
  await press('Save as MusicXML');
  await eventually(() => expect(saved).toHaveLength(2));
  expect(saved.map(({ name }) => name)).toEqual(['Blues in Bb.musicxml', 'Blues in Bb.mxl']);
  for (const { file } of saved) {
    const read = await scores.read(file);
    expect(read.ok && read.value.project.text).toBe('| Bb7 | Eb7 |');
  }
});

it('has nothing to save where nothing is typed', async () => {
  await openFiles('');
  await expect.element(page.getByRole('button', { name: 'Save as MIDI' })).toBeDisabled();
  await expect.element(page.getByRole('button', { name: 'Save as MusicXML' })).toBeDisabled();
});

it('opens a lead sheet, which undo takes back, and lists what was not understood', async () => {
  const { session } = await openFiles('| Bb7 |');
  const odd = '<harmony><root><root-step>G</root-step></root><kind>German</kind></harmony>';
  await page
    .getByLabelText('Open MusicXML')
    .upload(sheet(score(`${HARMONY}<forward><duration>2</duration></forward>${odd}`)));
  await expect.element(page.getByText(/not everything was understood/)).toBeVisible();
  expect(session.project.title).toBe('Study in F');
  expect(readText(session.text).chart.bars[0]!.slots[0]!.chord?.text).toBe('F7');
  await expect.element(page.getByRole('listitem').filter({ hasText: 'bar 1' })).toHaveTextContent('German');
  session.undo();
  expect(session.text).toBe('| Bb7 |');
  await press('Put the list away');
  await expect.element(page.getByText('Not understood in the file opened last')).not.toBeInTheDocument();
});

it('says why a file is none, and leaves the chart alone', async () => {
  const { session } = await openFiles('| Bb7 |');
  await page.getByLabelText('Open MusicXML').upload(sheet('<html></html>'));
  await expect.element(page.getByText(/This file is not MusicXML/)).toBeVisible();
  expect(session.text).toBe('| Bb7 |');
});
