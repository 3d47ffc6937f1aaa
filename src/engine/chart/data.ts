/**
 * How a lead sheet is typed. The signs are those a musician writes on paper, spelled with the keys of
 * an ordinary keyboard; where Unicode has the sign itself it is read as well.
 *
 *     |  ||  |:  :|  :|:     bar line, double bar, repeats; also 𝄀 𝄁 𝄂 𝄆 𝄇 ‖ |]
 *     :| 3x                  the stretch is played three times in all; also x3, (3x)
 *     1.  1,2.  1-3.         an ending, right after its bar line
 *     [A]  [Bridge]          a rehearsal mark, boxed
 *     3/4                    a time signature, at the head of the bar where it changes; also 𝄴 𝄵
 *     /                      the chord before is held for one felt beat of the metre
 *     %  %%                  the bar before, the two bars before (one %% stands for both bars); also 𝄎 𝄏
 *     N.C.                   nobody plays a chord; also NC
 *     (Dm7)                  a chord that may be left out
 *     "rubato"               words above the bar
 *     Segno  Coda  To Coda  Fine  D.C.  D.S. al Coda …    the road map; also 𝄋 𝄌
 *
 * The end of a line ends its bar, with or without a bar line: on paper no bar is broken over two
 * lines (our choice). Empty lines, and a bar line on both sides of a line break, are one boundary.
 */
import type { Sign } from './types.ts';

/** A road-map sign, how it is printed, and the patterns it is read by (case does not matter). */
export interface SignSpelling {
  readonly sign: Sign;
  readonly text: string;
  readonly pattern: string;
  /** Where in its bar the sign takes effect. Common practice. */
  readonly place: 'start' | 'end';
}

const DC = '(?:D\\.C\\.?|DC|Da\\s+Capo)';
const DS = '(?:D\\.S\\.?|DS|D(?:al|el)\\s+Segno|D\\.𝄋)';
const CODA = '(?:Coda|𝄌)';

/** The longer spelling stands before the shorter one it begins with. */
export const SIGNS: readonly SignSpelling[] = Object.freeze([
  { sign: 'dc-al-fine', text: 'D.C. al Fine', pattern: `${DC}\\s+al\\s+Fine`, place: 'end' },
  { sign: 'dc-al-coda', text: 'D.C. al Coda', pattern: `${DC}\\s+al\\s+${CODA}`, place: 'end' },
  { sign: 'ds-al-fine', text: 'D.S. al Fine', pattern: `${DS}\\s+al\\s+Fine`, place: 'end' },
  { sign: 'ds-al-coda', text: 'D.S. al Coda', pattern: `${DS}\\s+al\\s+${CODA}`, place: 'end' },
  { sign: 'dc', text: 'D.C.', pattern: DC, place: 'end' },
  { sign: 'ds', text: 'D.S.', pattern: DS, place: 'end' },
  { sign: 'to-coda', text: 'To Coda', pattern: `To\\s+${CODA}`, place: 'end' },
  { sign: 'fine', text: 'Fine', pattern: 'Fine', place: 'end' },
  { sign: 'segno', text: 'Segno', pattern: '(?:Segno|𝄋)', place: 'start' },
  { sign: 'coda', text: 'Coda', pattern: CODA, place: 'start' },
] satisfies SignSpelling[]);

/** Units a time signature is counted in. */
export const METRE_UNITS: readonly number[] = Object.freeze([1, 2, 4, 8, 16]);

/** Bounds that keep any text playable. Our choice: far beyond any lead sheet, near enough to stay quick. */
export const LIMITS = Object.freeze({
  /** Beats of a time signature. */
  metreCount: 32,
  /** Times a repeat is played; the highest number of an ending. */
  times: 99,
  /** Letters of a chord symbol. */
  symbol: 48,
  /** Bars of a form, as played. */
  formBars: 4000,
  /** Problems that are listed one by one. */
  problems: 200,
  /** Letters of typed text that a message quotes. */
  quote: 24,
});

/** Stray signs that are often typed for something else, and what is written instead. */
export const STRAY: ReadonlyMap<string, string> = new Map([
  ['D.', 'D.C. and D.S. are written without a space.'],
  ['x', 'A number of times is written right after :|, without a space, e.g. :| 3x.'],
  ['N.', 'N.C. is written without a space.'],
  ['-', 'Use / to hold the chord for a beat.'],
  ['–', 'Use / to hold the chord for a beat.'],
  ['—', 'Use / to hold the chord for a beat.'],
  ['.', 'Use / to hold the chord for a beat.'],
  ['\\', 'Use / to hold the chord for a beat.'],
  [',', 'Leave a space between two chords, or a bar line | between two bars.'],
  [';', 'Leave a space between two chords, or a bar line | between two bars.'],
  [':', 'A repeat is written |: at its start and :| at its end.'],
  [']', 'A rehearsal mark is written in a pair of square brackets: [A].'],
]);
