import type { Place, Reporter } from './problems.ts';

/**
 * Watches which line breaks have a bar line beside them. The end of a line ends its bar either way; but
 * where some lines of a chart have bar lines at their ends, a line that has none may want one.
 */
export class LineBreaks {
  readonly #bare: Place[] = [];
  #barred = false;
  /** A line break that ended a bar, until it shows whether a bar line follows. */
  #open: Place | null = null;

  /** A line ended within a bar. */
  endedBar(place: Place): void {
    this.#open = place;
  }

  /** A line ended right after a bar line. */
  endedAtLine(): void {
    this.#barred = true;
  }

  sawBarLine(): void {
    if (this.#open !== null) this.#barred = true;
    this.#open = null;
  }

  sawChord(): void {
    if (this.#open !== null) this.#bare.push(this.#open);
    this.#open = null;
  }

  report(report: Reporter): void {
    if (!this.#barred) return;
    for (const place of this.#bare) {
      report.warning(
        place,
        'No bar line stands at the end of this line',
        'The line ends the bar. Write | here, or write the bar on one line.',
      );
    }
  }
}
