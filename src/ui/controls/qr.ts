import { encodeQR } from 'qr';

/** A code of light and dark squares, drawn from the top left. */
export interface Code {
  /** Squares a side, with the quiet zone of four squares that ISO/IEC 18004 asks for on every side. */
  readonly size: number;
  /** The dark squares as the path of an SVG whose unit is a square. */
  readonly path: string;
}

/**
 * The longest text that is made into a code, in bytes of UTF-8. Our choice: it makes 97 squares a side
 * (version 20), about as many as a phone's camera tells apart on a screen as wide as a hand.
 */
export const LONGEST_CODE = 858;

const QUIET = 4;

/**
 * The QR code of a text, at the lowest level of correction: a screen and a fresh print have no stains,
 * and fewer squares are larger. Null when the text is too long for a code that can be read.
 */
export function codeOf(text: string): Code | null {
  if (new TextEncoder().encode(text).length > LONGEST_CODE) return null;
  const squares = encodeQR(text, 'raw', { ecc: 'low', border: QUIET });
  return { size: squares.length, path: squares.map(rowPath).join('') };
}

/** One stroke for each run of dark squares. */
function rowPath(row: readonly boolean[], y: number): string {
  let path = '';
  for (let x = 0; x < row.length;) {
    const from = x;
    while (row[x] === true) x++;
    if (x > from) path += `M${from} ${y}h${x - from}v1h${from - x}z`;
    else x++;
  }
  return path;
}
