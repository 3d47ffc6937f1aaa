/** Deflate in and out, within a bound, for links. */

/**
 * Bytes handed over at a time: few at first, so that of damaged data all that comes before the damage
 * comes out; then more. Deflate makes at most about 1,030 bytes of one (RFC 1951: 258 bytes from two
 * bits), so that a piece never becomes more than half a megabyte before the reader can say stop.
 */
const PIECE = { first: 32, firstUntil: 1024, then: 512 };

/** `bytes` as raw deflate data. */
export async function deflate(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> {
  return (await pump(new CompressionStream('deflate-raw'), [bytes], Infinity)).bytes;
}

export interface Inflated {
  /** What came out, also where the data broke off; nothing when it was too large. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly end: 'whole' | 'broken' | 'too-large';
}

/**
 * Raw deflate data as it was, as far as it goes. Never throws, and gives up as soon as more than
 * `most` bytes have come out.
 */
export function inflate(bytes: Uint8Array<ArrayBuffer>, most: number): Promise<Inflated> {
  const pieces: Uint8Array<ArrayBuffer>[] = [];
  for (let at = 0; at < bytes.length; at += pieces.at(-1)!.length) {
    pieces.push(bytes.subarray(at, at + (at < PIECE.firstUntil ? PIECE.first : PIECE.then)));
  }
  return pump(new DecompressionStream('deflate-raw'), pieces, most);
}

function pump(
  stream: CompressionStream | DecompressionStream,
  pieces: readonly Uint8Array<ArrayBuffer>[],
  most: number,
): Promise<Inflated> {
  // A failing stream tells its reader too, which is where it is dealt with.
  feed(stream.writable.getWriter(), pieces).catch(() => undefined);
  return collect(stream.readable.getReader(), most);
}

async function feed(
  writer: WritableStreamDefaultWriter<BufferSource>,
  pieces: readonly Uint8Array<ArrayBuffer>[],
) {
  for (const piece of pieces) {
    await writer.ready;
    await writer.write(piece);
  }
  await writer.close();
}

async function collect(
  reader: ReadableStreamDefaultReader<Uint8Array<ArrayBuffer>>,
  most: number,
): Promise<Inflated> {
  const pieces: Uint8Array<ArrayBuffer>[] = [];
  let size = 0;
  let end: Inflated['end'] = 'whole';
  try {
    for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
      size += piece.value.length;
      if (size > most) {
        await reader.cancel();
        return { bytes: new Uint8Array(0), end: 'too-large' };
      }
      pieces.push(piece.value);
    }
  } catch {
    end = 'broken';
  }
  const all = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return { bytes: all, end };
}
