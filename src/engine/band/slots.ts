import type { Span } from '../harmony/index.ts';
import { randomFor, ticks, type Random, type Ticks } from '../units/index.ts';
import { bassRhythm, type BassStroke } from './bass-rhythm.ts';
import type { Hit } from './notation.ts';
import { paletteOf, type Palette } from './palette.ts';
import { onPedal, pedalsOf } from './pedal.ts';
import { strongPulses, type BarGrid } from './pulses.ts';
import type { Style } from './style.ts';
import type { RoundPlan } from './types.ts';

/**
 * What a bass note is for:
 * - `ground`: a change; the root or the written bass
 * - `renewal`: a bar or a chord written anew on a harmony that goes on
 * - `tone`: a strong beat; chord tones
 * - `free`: a weak beat; chord tones, scale, chromatic passing notes
 * - `approach`: the last note before a change
 * - `pedal`: the bass stays where it is
 * - `fifth`, `root`, `next`: asked for by the feel
 * - `ghost`, `octave`: repeats the note before, dead, or an octave away; no note of the line
 */
export type Purpose =
  | 'ground'
  | 'renewal'
  | 'tone'
  | 'free'
  | 'approach'
  | 'pedal'
  | 'fifth'
  | 'root'
  | 'next'
  | 'ghost'
  | 'octave';

/** A place where the bass plays. */
export interface Slot {
  readonly at: Ticks;
  readonly nominal: Ticks;
  readonly bar: number;
  readonly pulse: Ticks;
  readonly span: number;
  readonly palette: Palette;
  readonly purpose: Purpose;
  /** What the line is on its way to: the next different harmony, or null. */
  readonly target: Palette | null;
  /** It must sound on its beat to the tick: a live change of colour. */
  readonly exact: boolean;
  /** The third may stand for the root here. */
  readonly invertible: boolean;
  /** The root of the tritone substitute leads to the target. */
  readonly substitute: boolean;
  readonly length: Hit['length'];
  readonly weight: Hit['weight'];
}

/** Chance that a change may be taken on its third. Our choice, because a root in twenty may go for a smoother line. */
const INVERSION = 0.05;
/** Chance that a bar leads back into the same harmony by an approach. Our choice. */
const TURN = 0.4;

/** Every place in the round where the bass plays, with its purpose. */
export function slotsOf(plan: RoundPlan, style: Style): readonly Slot[] {
  const { grid } = style;
  const { changes, settings, round } = plan;
  // A push at the end of the round sounds the first chord of the next.
  const coming = plan.next === null ? [] : [{ ...plan.next, start: ticks(changes.length + plan.next.start) }];
  const spans = [...changes.spans, ...coming];
  const pedals = pedalsOf(plan, grid);
  // The next round's first bar is under the pedal where this one's is.
  const onward = settings.pedal?.where === 'every-other-round' ? null : pedals[0];
  const palettes = spans.map((span, index) => {
    if (span.chord === null) return null;
    const note = index < changes.spans.length ? pedals[span.bar] : onward;
    return onPedal(paletteOf(span.chord), note ?? null);
  });
  const next = coming.length > 0 ? (palettes.at(-1) ?? null) : null;
  const strokes = bassRhythm(plan, style);
  const sounding = strokes.filter(({ span }) => palettes[span] != null);
  const inLine = (index: number, step: 1 | -1) => {
    for (let i = index + step; i >= 0 && i < sounding.length; i += step) {
      if (!isOrnament(sounding[i]!)) return sounding[i]!;
    }
    return null;
  };
  return sounding.map((placed, index): Slot => {
    const { stroke, span, begins } = placed;
    const palette = palettes[span]!;
    const bar = grid[stroke.bar]!;
    const before = inLine(index, -1);
    const after = isOrnament(placed) ? null : inLine(index, 1);
    const random = randomFor(settings.seed, 'bass', round, stroke.bar, stroke.nominal);
    const changed = begins && (span === 0 || !goesOn(spans[span - 1]!, spans[span]!));
    const leaves = after === null ? next !== null : after.span !== span && !isAlike(spans, span, after.span);
    const endsBar = after === null || after.stroke.bar !== stroke.bar;
    const target = after === null ? next : leaves || endsBar ? (palettes[after.span] ?? null) : null;
    const turns = endsBar && target !== null && random.chance(TURN);
    const newBar = before === null || before.stroke.bar !== stroke.bar;
    const strong = strongPulses(bar.groups).has(stroke.pulse) && stroke.hit.place === '';
    const purpose = ((): Purpose => {
      const octave = stroke.hit.what === 'O' ? 'octave' : 'ghost';
      if (palette.pedal !== null) return isOrnament(placed) ? octave : 'pedal';
      if (changed) return 'ground';
      if (isOrnament(placed)) return octave;
      const asked = ASKED[stroke.hit.what ?? ''];
      if (asked !== undefined && (target !== null || (asked !== 'next' && asked !== 'approach')))
        return asked;
      const pedal = isPedal(spans, span);
      const stays = pedal && target?.ground === palette.ground;
      if (!begins && (leaves || turns) && target !== null && !stays) return 'approach';
      if (pedal) return 'pedal';
      if (begins || newBar) return 'renewal';
      return strong ? 'tone' : 'free';
    })();
    return {
      at: stroke.at,
      nominal: stroke.nominal,
      bar: stroke.bar,
      pulse: bar.pulses[stroke.pulse]?.length ?? bar.bar.length,
      span,
      palette,
      purpose,
      target,
      exact: begins && spans[span]!.treatment?.origin === 'live',
      invertible:
        begins &&
        spans[span]!.start === stroke.nominal &&
        mayInvert(spans, span, bar) &&
        random.chance(INVERSION),
      substitute: substitutes(
        palette,
        target,
        settings,
        randomFor(settings.seed, 'bass', round, stroke.bar, 'substitute'),
      ),
      length: stroke.hit.length,
      weight: stroke.hit.weight,
    };
  });
}

const ASKED: Readonly<Record<string, Purpose>> = {
  R: 'root',
  '5': 'fifth',
  C: 'tone',
  A: 'approach',
  N: 'next',
};

/** How often the tritone substitute is taken where it is asked for: not every time, or it is no surprise. Our choice. */
const SUBSTITUTE = 0.75;

/** Whether the bass comes by the root of the tritone substitute: from a dominant that falls a fifth. Common practice. */
function substitutes(
  { root, chord }: Palette,
  target: Palette | null,
  { approach }: RoundPlan['settings'],
  random: Random,
): boolean {
  if (approach === undefined || target === null || target.pedal !== null) return false;
  const falls =
    (root - target.root + 12) % 12 === 7 && chord.degrees.includes('3') && chord.degrees.includes('b7');
  return falls && target.ground === target.root && random.chance(SUBSTITUTE);
}

/** Ghosts and octave drops are ornaments of the line, unless a chord begins with them. */
const isOrnament = ({ stroke, begins }: BassStroke): boolean =>
  !begins && (stroke.hit.what === 'X' || stroke.hit.what === 'O');

/** A change may be taken on its third where the root is new, no bass is written and there is time to come to it. */
function mayInvert(spans: readonly Span[], index: number, bar: BarGrid): boolean {
  const span = spans[index]!;
  const before = spans[index - 1]?.chord;
  const long = span.length >= 2 * (bar.pulses[0]?.length ?? Infinity);
  return long && span.chord?.bass === null && before != null && before.root !== span.chord.root;
}

/** The harmony goes on: the same chord written anew. */
const goesOn = (before: Span, after: Span): boolean =>
  before.chord !== null && before.chord.text === after.chord?.text;

function isAlike(spans: readonly Span[], from: number, to: number): boolean {
  for (let i = from; i < to; i++) if (!goesOn(spans[i]!, spans[i + 1]!)) return false;
  return true;
}

/** The bass is held while the chords above it change. */
function isPedal(spans: readonly Span[], index: number): boolean {
  const bass = spans[index]?.chord?.bass ?? null;
  if (bass === null) return false;
  return [spans[index - 1], spans[index + 1]].some(
    (other) => other?.chord?.bass === bass && other.chord.text !== spans[index]!.chord!.text,
  );
}
