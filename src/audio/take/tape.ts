/** The longest take, seconds: ten minutes are 58 MB on the device at 48 kHz. */
export const LONGEST_TAKE = 600;

const HEADER = 44;

/** One channel of sound as it comes in, kept as 16 bits a sample. */
export class Tape {
  readonly #rate: number;
  readonly #pieces: Int16Array<ArrayBuffer>[] = [];
  #length = 0;

  constructor(rate: number) {
    this.#rate = rate;
  }

  /** Seconds kept. */
  get seconds(): number {
    return this.#length / this.#rate;
  }

  /** False where there is no more room. */
  push(samples: Float32Array): boolean {
    const room = Math.floor(LONGEST_TAKE * this.#rate) - this.#length;
    if (room <= 0) return false;
    const piece = Int16Array.from(samples.subarray(0, room), (x) =>
      Math.round(Math.max(-1, Math.min(1, x)) * 32767),
    );
    this.#pieces.push(piece);
    this.#length += piece.length;
    return true;
  }

  /** All of it as a sound file (RIFF/WAVE, Microsoft and IBM 1991: PCM, one channel), from frame `from` on. */
  wav(from = 0): Blob {
    let skip = Math.max(0, Math.min(this.#length, from));
    const kept = this.#pieces.flatMap((piece) => {
      const left = piece.subarray(Math.min(skip, piece.length));
      skip = Math.max(0, skip - piece.length);
      return left.length === 0 ? [] : [left];
    });
    const bytes = 2 * kept.reduce((sum, { length }) => sum + length, 0);
    return new Blob([header(bytes, this.#rate), ...kept], { type: 'audio/wav' });
  }
}

function header(bytes: number, rate: number): ArrayBuffer {
  const view = new DataView(new ArrayBuffer(HEADER));
  const text = (at: number, word: string) => {
    for (let i = 0; i < word.length; i++) view.setUint8(at + i, word.charCodeAt(i));
  };
  text(0, 'RIFF');
  view.setUint32(4, HEADER - 8 + bytes, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, 2 * rate, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  text(36, 'data');
  view.setUint32(40, bytes, true);
  return view.buffer;
}
