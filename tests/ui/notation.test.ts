import { beforeAll, describe, expect, it } from 'vitest';
import {
  buildDrill,
  GUITAR,
  PPQ,
  sheetOf,
  suggestThrough,
  readText,
  transposedFor,
  usualDrill,
  type Drill,
  type DrillSettings,
  type SheetBar,
} from '../../src/engine/index.ts';
import { engrave, engraving, type Look } from '../../src/ui/notation/engrave.ts';
import { loadStaffFace } from '../../src/ui/notation/faces.ts';

/** The signs of the staff's face by their code points in SMuFL, "Standard accidentals (12-EDO)". */
const ACCIDENTALS: Readonly<Record<string, string>> = {
  '\uE260': 'b',
  '\uE261': 'n',
  '\uE262': '#',
  '\uE263': '##',
  '\uE264': 'bb',
};

const READER = { spelling: 'plain', written: transposedFor('octave-lower') } as const;
const LOOK: Look = {
  width: 700,
  scale: 1,
  clef: 'treble',
  strings: 6,
  degrees: true,
  symbol: (chord) => chord.text,
};
const FORM = 'Dm7 | G7alt | Cmaj7 | A7alt | Dm7 | G7 | C6 | % |';

function drillOver(text: string, set: Partial<DrillSettings> = {}): Drill {
  const { written } = readText(text);
  const scales = suggestThrough(written).map((offered) => offered[0] ?? null);
  const settings = { ...usualDrill('through', 'changes'), ...set };
  return buildDrill(settings, { over: 'changes', passage: { changes: written, scales } }, GUITAR);
}
const sheet = (text: string, set: Partial<DrillSettings> = {}) => sheetOf(drillOver(text, set), READER);
const draw = (bars: readonly SheetBar[], set: Partial<Look> = {}) => engrave(bars, { ...LOOK, ...set });
const signsOf = (bars: readonly SheetBar[]) => bars.flatMap(({ signs }) => signs);
const count = (drawn: ReturnType<typeof draw>, selector: string) =>
  drawn.reduce((sum, { svg }) => sum + svg.querySelectorAll(selector).length, 0);
const texts = (drawn: ReturnType<typeof draw>, selector: string) =>
  drawn.flatMap(({ svg }) => [...svg.querySelectorAll(selector)].map(({ textContent }) => textContent));

beforeAll(() => loadStaffFace());

describe('a drill as notation', () => {
  it('stands in lines that fit the width, every bar once and in order', () => {
    const bars = sheet(FORM);
    for (const width of [328, 700, 1100]) {
      const lines = draw(bars, { width });
      expect(lines[0]!.from).toBe(0);
      for (const [i, line] of lines.entries()) {
        expect(line.from).toBe(i === 0 ? 0 : lines[i - 1]!.to);
        expect(line.places.at(-1)!.x).toBeLessThanOrEqual(width);
        expect(line.places.map(({ x }) => x)).toEqual(
          line.places.map(({ x }) => x).toSorted((a, b) => a - b),
        );
      }
      expect(lines.at(-1)!.to).toBe(8 * 4 * PPQ);
    }
    expect(draw(bars, { width: 328 }).length).toBeGreaterThan(draw(bars, { width: 1100 }).length);
  });

  it('fills each line but the last to its end', () => {
    for (const width of [328, 700, 786]) {
      const lines = draw(sheet(FORM), { width });
      expect(lines.length).toBeGreaterThan(1);
      for (const line of lines.slice(0, -1)) expect(line.places.at(-1)!.x).toBeCloseTo(width - 1, 0);
    }
  });

  it('leaves room between a chord symbol and an accidental that rises over the staff', () => {
    const bars = sheet(FORM);
    const signed = (accidental: string | null) =>
      bars.map((bar) => ({
        ...bar,
        signs: bar.signs.map((sign) => ({ ...sign, note: sign.note && { ...sign.note, accidental } })),
      })) as readonly SheetBar[];
    const heights = (accidental: string | null) =>
      engraving(signed(accidental), { ...LOOK, width: 4000 }).systems.map(({ height }) => height);
    for (const [i, height] of heights('b').entries()) expect(height).toBeGreaterThan(heights(null)[i]!);
  });

  it('knows the height of a line before it is drawn', () => {
    const bars = sheet(FORM);
    const paper = engraving(bars, LOOK);
    expect(paper.systems.map(({ height }) => height)).toEqual(draw(bars).map(({ height }) => height));
    expect(paper.draw(1).from).toBe(paper.systems[1]!.from);
    expect(() => paper.draw(99)).toThrow(RangeError);
  });

  it('has a head for every note, a tie where one goes on, and a beam for every group', () => {
    const bars = sheet('Dm7 | G7 | Cmaj7 | % |', { kind: 'guide-tones' });
    const drill = drillOver('Dm7 | G7 | Cmaj7 | % |', { kind: 'guide-tones' });
    const drawn = draw(bars);
    expect(drawn.flatMap(({ notes }) => notes.map(({ index }) => index))).toEqual(
      drill.notes.map((_, i) => i),
    );
    expect(count(drawn, '.vf-stavenote')).toBe(signsOf(bars).length);
    const ties = signsOf(bars).filter(({ note }) => note?.tiedTo === true).length;
    expect(count(drawn, '.vf-stavetie')).toBeGreaterThanOrEqual(ties);
    const running = sheet(FORM);
    const beams = running.reduce(
      (sum, { signs }) => sum + new Set(signs.flatMap(({ beam }) => beam ?? [])).size,
      0,
    );
    expect(count(draw(running), '.vf-beam')).toBe(beams);
  });

  it('prints the accidentals that the engine asks for, and no others', () => {
    for (const spelling of ['plain', 'degree'] as const) {
      const bars = sheetOf(drillOver(FORM), { ...READER, spelling });
      const asked = signsOf(bars).flatMap(({ note }) => note?.accidental ?? []);
      expect(asked.length).toBeGreaterThan(5);
      const printed = texts(draw(bars), 'text').flatMap((text) => ACCIDENTALS[text] ?? []);
      expect(printed).toEqual(asked);
    }
  });

  it('prints on the strings the fret of every note, for as many strings as there are', () => {
    const drill = drillOver(FORM);
    const bars = sheetOf(drill, READER);
    expect(texts(draw(bars), '.tab text').filter((text) => /^\d+$/.test(text))).toEqual(
      drill.notes.flatMap(({ stop }) => (stop === null ? [] : [String(stop.fret)])),
    );
    expect(count(draw(bars, { strings: 0 }), '.tab')).toBe(0);
  });

  it('prints chord symbols where the chords begin and degrees under the notes', () => {
    const drill = drillOver('Dm7 G7alt | Cmaj7 |');
    const bars = sheetOf(drill, READER);
    expect(texts(draw(bars), '.chord-symbol')).toEqual(['Dm7', 'G7alt', 'Cmaj7']);
    expect(count(draw(bars), '.degrees text')).toBe(
      drill.notes.filter(({ degree }) => degree !== null).length,
    );
    expect(count(draw(bars, { degrees: false }), '.degrees')).toBe(0);
  });

  it('brackets or beams three notes to a beat as triplets', () => {
    const bars = sheet(FORM, { rhythm: 'triplet' });
    const groups = bars.reduce(
      (sum, { signs }) => sum + new Set(signs.flatMap(({ triplet }) => triplet ?? [])).size,
      0,
    );
    expect(groups).toBeGreaterThan(8);
    expect(count(draw(bars), '.vf-tuplet')).toBe(groups);
  });
});
