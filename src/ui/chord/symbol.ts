/** A chord symbol cut into the pieces that are set in different sizes. */
export interface SymbolParts {
  /** The root's letter, or the whole text where it does not begin with a root. */
  readonly letter: string;
  readonly accidental: string;
  /** The quality in words or signs, on the line of the letter: "m", "maj", "ø". */
  readonly quality: string;
  /** From the first figure on, raised: "7(♯9,♭13)". */
  readonly raised: string;
  /** The bass of a slash chord, e.g. "B♭"; empty when there is none. */
  readonly bass: string;
}

const ACCIDENTALS: Readonly<Record<string, string>> = { '': '', b: '♭', bb: '𝄫', '#': '♯', '##': '𝄪' };
const ROOT = /^([A-G])(bb|##|b|#|♭♭|♯♯|♭|♯|𝄫|𝄪)?(.*)$/u;
const BASS = /\/([A-G](?:bb|##|b|#|♭♭|♯♯|♭|♯|𝄫|𝄪)?)$/u;

/** Accidentals and chord signs as signs: "b9" becomes "♭9". Letters that are no accidental stay. */
export function withSigns(text: string): string {
  return text
    .replaceAll(/bb(?=\d)/g, '𝄫')
    .replaceAll(/##(?=\d)/g, '𝄪')
    .replaceAll(/b(?=\d)/g, '♭')
    .replaceAll(/#(?=\d)/g, '♯');
}

/** A note name with its sign: "Eb" becomes "E♭". */
export function noteWithSign(name: string): string {
  const [, letter = name, accidental = '', rest = ''] = ROOT.exec(name) ?? [];
  return letter + (ACCIDENTALS[accidental] ?? accidental) + rest;
}

/** Cuts a chord symbol for setting. Anything that is no symbol stands as its own letter. */
export function symbolParts(text: string): SymbolParts {
  const found = ROOT.exec(text);
  if (found === null) return { letter: text, accidental: '', quality: '', raised: '', bass: '' };
  const [, letter = '', accidental = '', rest = ''] = found;
  const bass = BASS.exec(rest)?.[1] ?? '';
  const body = withSigns(bass === '' ? rest : rest.slice(0, -bass.length - 1));
  const figure = body.search(/[\d(]|[♭♯]\d|alt/);
  return {
    letter,
    accidental: ACCIDENTALS[accidental] ?? accidental,
    quality: figure < 0 ? body : body.slice(0, figure),
    raised: figure < 0 ? '' : body.slice(figure),
    bass: bass === '' ? '' : noteWithSign(bass),
  };
}

/** How large the pieces are set beside the letter. */
const SCALE = { quality: 0.68, raised: 0.62, bass: 0.7 } as const;

/** Widths in em of the chord face at its full width, measured from the font; signs from the signs' own. */
const NARROW = /[ijl.,;:'!|()[\]]/;
const WIDE = /[mwMW%Δ△]/;
const ACCIDENTAL = /[♭♯♮]/u;
function em(text: string): number {
  let sum = 0;
  for (const sign of text) {
    sum += NARROW.test(sign) ? 0.33 : WIDE.test(sign) ? 0.86 : ACCIDENTAL.test(sign) ? 0.44 : 0.58;
  }
  return sum;
}

/** The face at its narrowest takes this share of its full width. */
const NARROWEST = 0.79;
/** Below this no symbol can be read, px. */
const SMALLEST = 11;

/** How to set a symbol in `room` px when it would like to be `size` px: narrower first, then smaller. */
export function fitSymbol(text: string, room: number, size: number): { size: number; stretch: number } {
  const { letter, accidental, quality, raised, bass } = symbolParts(text);
  const wide =
    em(letter) * 1.15 +
    em(accidental) +
    em(quality) * SCALE.quality +
    em(raised) * SCALE.raised +
    (bass === '' ? 0 : (em(bass) + 0.45) * SCALE.bass) +
    0.1;
  const share = room / (wide * size);
  const stretch = share >= 1 ? 100 : Math.max(75, 75 + ((share - NARROWEST) / (1 - NARROWEST)) * 25);
  return { size: share >= NARROWEST ? size : Math.max(SMALLEST, size * (share / NARROWEST)), stretch };
}
