/** The part of chord-symbol the tests ask; its bundle comes without types of its own. */
declare module 'chord-symbol/lib/chord-symbol-esm.js' {
  interface Read {
    readonly normalized: { readonly intervals: readonly string[] };
  }
  interface Refused {
    readonly error: readonly Error[];
  }
  export function chordParserFactory(): (symbol: string) => Read | Refused;
}
