/** Packages of the workshop that come without types, as far as they are used. */
declare module 'subset-font' {
  type Axis = number | { readonly min: number; readonly max: number };
  export default function subsetFont(
    font: Uint8Array,
    text: string,
    options: {
      readonly targetFormat: 'woff2' | 'truetype';
      readonly variationAxes?: Readonly<Record<string, Axis>>;
      readonly keepFeatures?: readonly string[];
    },
  ): Promise<Uint8Array>;
}
declare module 'wawoff2' {
  const wawoff2: {
    compress(font: Uint8Array): Promise<Uint8Array>;
    decompress(font: Uint8Array): Promise<Uint8Array>;
  };
  export default wawoff2;
}
declare module 'opentype.js' {
  class Path {
    moveTo(x: number, y: number): void;
    lineTo(x: number, y: number): void;
    curveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void;
    close(): void;
    readonly commands: readonly { readonly type: string; readonly [coordinate: string]: number | string }[];
  }
  class Glyph {
    constructor(glyph: { name: string; unicode?: number; advanceWidth: number; path: Path });
    readonly name: string | null;
    readonly advanceWidth: number | undefined;
    readonly path: Path;
    /** 0 for a character that is not there. */
    readonly index: number;
    readonly unicode: number | undefined;
    getPath(x: number, y: number, size: number, options: undefined, font: Font): Path;
  }
  class Font {
    constructor(font: {
      familyName: string;
      styleName: string;
      unitsPerEm: number;
      ascender: number;
      descender: number;
      copyright?: string;
      license?: string;
      glyphs: readonly Glyph[];
    });
    readonly unitsPerEm: number;
    readonly ascender: number;
    readonly descender: number;
    readonly glyphs: { readonly glyphs: Readonly<Record<string, Glyph>> };
    charToGlyph(char: string): Glyph;
    toArrayBuffer(): ArrayBuffer;
  }
  const opentype: {
    Path: typeof Path;
    Glyph: typeof Glyph;
    Font: typeof Font;
    parse(file: ArrayBuffer): Font;
  };
  export default opentype;
}
