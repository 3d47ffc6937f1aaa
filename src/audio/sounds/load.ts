import type { Instrument } from '../types.ts';
import { Bank, filesFor } from './bank.ts';
import { decode, type Recording } from './decode.ts';
import { entriesOf, urlOf } from './manifest.ts';

/** How far loading has come; a file that failed counts as done and is named in `missing`. */
export interface Progress {
  readonly done: number;
  readonly total: number;
  readonly missing: readonly Instrument[];
}

/** Files as fetched, shared by every sample rate they are decoded to. */
const files = new Map<Instrument, Promise<ArrayBuffer>>();
const decoded = new Map<string, Promise<readonly Recording[]>>();
const banks = new Map<number, Bank>();

/** The sounds held at one sample rate; the same bank every time, so that nothing is decoded twice. */
export function bankAt(sampleRate: number): Bank {
  const bank = banks.get(sampleRate) ?? new Bank(sampleRate);
  banks.set(sampleRate, bank);
  return bank;
}

/**
 * Loads what `instruments` need, each file once, into the bank of a sample rate. Never rejects: what
 * cannot be had is played by stand-ins and tried again the next time.
 * @param onProgress called at once and as each file comes
 */
export async function loadSounds(
  sampleRate: number,
  instruments: readonly Instrument[],
  onProgress: (progress: Progress) => void = () => {},
): Promise<Bank> {
  const bank = bankAt(sampleRate);
  const wanted = [...new Set(instruments.flatMap(filesFor))];
  const missing: Instrument[] = [];
  let done = wanted.filter((instrument) => bank.loaded.includes(instrument)).length;
  const report = () => onProgress({ done, total: wanted.length, missing: [...missing] });
  report();
  const load = async (instrument: Instrument) => {
    try {
      bank.add(instrument, await recordingsOf(instrument, sampleRate));
    } catch {
      missing.push(instrument);
    }
    done++;
    report();
  };
  await Promise.all(wanted.filter((instrument) => !bank.loaded.includes(instrument)).map(load));
  return bank;
}

function recordingsOf(instrument: Instrument, sampleRate: number): Promise<readonly Recording[]> {
  return remember(decoded, `${instrument} ${sampleRate}`, async () => {
    const file = await remember(files, instrument, () => fetchFile(urlOf(instrument)));
    return decode(file.slice(0), entriesOf(instrument), sampleRate);
  });
}

async function fetchFile(url: string): Promise<ArrayBuffer> {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url}: ${response.status}`);
  return response.arrayBuffer();
}

/** The promise made before under this key, or a new one; one that fails is forgotten. */
function remember<K, V>(made: Map<K, Promise<V>>, key: K, make: () => Promise<V>): Promise<V> {
  const before = made.get(key);
  if (before !== undefined) return before;
  const promise = make();
  made.set(key, promise);
  promise.catch(() => made.delete(key));
  return promise;
}
