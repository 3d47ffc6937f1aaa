import { homeKey, readKeys, vampKey, type HomeKey, type Reading } from '../../engine/index.ts';
import { carryReadings, type Readings } from './readings.ts';

/** What the ear needs of the project. */
interface Heard {
  readonly reading: Reading;
  /** Null leaves the key to the changes. */
  readonly key: HomeKey | null;
}

/** In which key the chart is and how its chords are heard: told from the whole of it, once typing rests. */
export class Ear {
  readonly #project: () => Heard;
  /** The chart as it stood when the run of typing began; null while none goes on. */
  #held: Reading | null = $state.raw(null);
  readonly #listened = $derived.by(() => (this.#held ?? this.#project().reading).written);
  /** What is told from the chords alone depends on nothing else, since it takes long. */
  readonly #found = $derived(homeKey(this.#listened));
  readonly #vamp = $derived(vampKey(this.#listened));
  readonly #chosen = $derived.by(() => this.#project().key);
  /** The key the chords are explained from. */
  readonly #home: HomeKey = $derived(this.#chosen ?? this.#found);
  /** The key the player is in: on a vamp that of its root, whatever it might lead to. */
  readonly key: HomeKey = $derived(this.#chosen ?? this.#vamp ?? this.#found);
  readonly #readings: Readings = $derived({
    written: this.#listened,
    readings: readKeys(this.#listened, this.#home),
  });
  /** How every chord as written is heard, carried over what is being typed. */
  readonly heard: Readings = $derived.by(() =>
    carryReadings(this.#readings, this.#project().reading.written),
  );

  constructor(project: () => Heard) {
    this.#project = project;
  }

  /** Typing begins, or goes on. */
  hold(): void {
    if (this.#held === null) this.#held = this.#project().reading;
  }

  /** Typing rests. */
  rest(): void {
    this.#held = null;
  }
}
