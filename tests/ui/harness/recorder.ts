import { bpm, fail, ok, type Result, type Trouble } from '../../../src/engine/index.ts';
import type {
  MixdownRequest,
  OpenedMicrophone,
  Recorded,
  RecorderNews,
  RecorderPort,
  TakeBalance,
} from '../../../src/ui/ports.ts';

/** A recorder without a microphone that gives what it is told to. It keeps what it was asked for. */
export class FakeRecorder implements RecorderPort {
  readonly longest = 600;
  /** How often the microphone was asked for. */
  asked = 0;
  opened: Result<OpenedMicrophone, Trouble> = ok({ label: 'Interface', likely: 0.04 });
  recorded: Result<Recorded, Trouble> = ok({
    sound: new Blob(['sound'], { type: 'audio/wav' }),
    length: 8,
    notes: [],
    course: [{ tick: 0, at: 0, tempo: bpm(120) }],
  });
  measured: Result<number, Trouble> = ok(0.0832);
  open_ = false;
  accompanied: ((tick: number) => number) | null = null;
  balance: TakeBalance | null = null;
  mixed: MixdownRequest | null = null;
  readonly #listeners = new Set<(news: RecorderNews) => void>();

  async open(): Promise<Result<OpenedMicrophone, Trouble>> {
    this.asked++;
    this.open_ = this.opened.ok;
    return this.opened;
  }

  close(): void {
    this.open_ = false;
  }

  begin(): void {
    this.accompanied = null;
  }

  async end(): Promise<Result<Recorded, Trouble>> {
    return this.recorded;
  }

  async measure(): Promise<Result<number, Trouble>> {
    return this.measured;
  }

  async accompany(_: Blob, at: (tick: number) => number): Promise<Result<null, Trouble>> {
    this.accompanied = at;
    return ok(null);
  }

  alone(): void {
    this.accompanied = null;
  }

  async mixdown(_: Blob, __: unknown, request: MixdownRequest): Promise<Result<Blob, Trouble>> {
    this.mixed = request;
    return fail({ message: 'Not here.', remedy: 'Elsewhere.' });
  }

  setBalance(balance: TakeBalance): void {
    this.balance = balance;
  }

  watch(listener: (news: RecorderNews) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  tell(news: RecorderNews): void {
    for (const listener of this.#listeners) listener(news);
  }
}
