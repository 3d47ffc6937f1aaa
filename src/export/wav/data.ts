/** How one sample is written. */
export type WavDepth = 16 | 24 | 'float';

/**
 * The first chunks of a RIFF/WAVE file by depth (Microsoft and IBM, Multimedia Programming Interface and
 * Data Specifications 1.0, 1991; Microsoft, Multiple Channel Audio Data and WAVE Files, 2001): 16 bit
 * as plain PCM, 24 bit in the extensible form that more than 16 bits ask for, float as IEEE float.
 */
export const LAYOUTS = Object.freeze({
  16: { tag: 1, bytes: 2, formatSize: 16 },
  24: { tag: 0xfffe, bytes: 3, formatSize: 40 },
  float: { tag: 3, bytes: 4, formatSize: 18 },
} as const) satisfies Readonly<Record<WavDepth, Layout>>;

interface Layout {
  /** The format's number. */
  readonly tag: number;
  /** Of one sample. */
  readonly bytes: number;
  /** Of the chunk `fmt `, without its head. */
  readonly formatSize: number;
}

/** The sub-format PCM of the extensible form, a GUID as it lies in the file. */
export const PCM_GUID: readonly number[] = [
  0x01, 0x00, 0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xaa, 0x00, 0x38, 0x9b, 0x71,
];

/** Speakers of a file of one or two channels: front centre; front left and right. */
export const SPEAKERS: Readonly<Record<number, number>> = { 1: 0x4, 2: 0x3 };

/** What a RIFF file can hold: its length is a number of 32 bits. */
export const MOST_BYTES = 2 ** 32 - 1;
