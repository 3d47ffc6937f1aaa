import { fail, ok, type Result } from '../../units/index.ts';
import { assemble } from './assemble.ts';
import { degreesOf } from '../degrees.ts';
import { LONGEST_SYMBOL } from './data.ts';
import { nearestSymbol } from './remedy.ts';
import type { Flaw } from './parts.ts';
import { scanSymbol } from './scan.ts';
import type { Chord, ChordProblem } from '../types.ts';

/**
 * Reads a chord symbol: what printed lead sheets contain, in ASCII or with real signs, with or without
 * brackets and commas, alterations in any order, `add` and `no`, and a slash with a bass note. Never
 * throws, whatever the text.
 *
 * The degrees are those the symbol asks for. `°` and `dim` without a number are triads, `ø` and a
 * triangle bring their seventh; what `11`, `13` and `b13` bring or leave out is told at `assemble`.
 * @param text one symbol, e.g. "C7(#9,b13)"; round brackets around the whole are taken off
 * @returns the chord, or what is wrong with the symbol, where, and the nearest symbol that can be read
 */
export function readChord(text: string): Result<Chord, ChordProblem> {
  if (text.length > LONGEST_SYMBOL) {
    const message = `a chord symbol has at most ${LONGEST_SYMBOL} characters`;
    return fail({ from: 0, to: text.length, message, remedy: null });
  }
  const symbol = text.trim();
  const chord = chordOf(symbol, text);
  if (!('message' in chord)) return ok(chord);
  const near = nearestSymbol(symbol, chord, (candidate) => !('message' in chordOf(candidate, candidate)));
  const lead = text.indexOf(symbol);
  const remedy = near && `did you mean ${near}?`;
  return fail({ from: lead + chord.from, to: lead + chord.to, message: chord.message, remedy });
}

function chordOf(symbol: string, text: string): Chord | Flaw {
  const parts = scanSymbol(symbol);
  if ('message' in parts) return parts;
  const assembled = assemble(parts);
  if ('message' in assembled) return assembled;
  const { root, bass, altered } = parts;
  return { text, root, bass, family: assembled.family, degrees: degreesOf(assembled.degrees), altered };
}

/** True for the signs that tell the band to play no chord: `N.C.`, `NC`, `no chord`. */
export function isNoChord(text: string): boolean {
  return /^(N\.? ?C\.?|no chord)$/i.test(text.trim());
}
