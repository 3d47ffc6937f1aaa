import { Element, Metrics, StaveNote, SVGContext, type NoteHead } from 'vexflow/core';

type Font = ReturnType<typeof Metrics.getFontInfo>;
type Style = ReturnType<typeof Metrics.getStyle>;

/**
 * VexFlow with less to do for the same drawing. It copies each of its tables with `structuredClone`, measures
 * every sign anew and makes every head three times: more than half of what a sheet took.
 */

/** To be called once, when the faces are chosen: what is asked for is remembered from then on. */
export function lighten(): void {
  const [fonts, styles] = [new Map<string, Font>(), new Map<string, Style>()];
  const [fontOf, styleOf] = [Metrics.getFontInfo.bind(Metrics), Metrics.getStyle.bind(Metrics)];
  // They are flat: what is spread is copied.
  Metrics.getFontInfo = (key) => ({ ...remembered(fonts, key, fontOf) });
  Metrics.getStyle = (key) => ({ ...remembered(styles, key, styleOf) });
  const numbers = new Map<string, unknown>();
  const get = Metrics.get.bind(Metrics) as (key: string) => unknown;
  Metrics.get = (key, fallback: unknown) => remembered(numbers, key, get) ?? fallback;
  const measuring = measurer();
  // All that is asked of a canvas is a context that measures.
  Element.setTextMeasurementCanvas({ getContext: () => measuring } as unknown as HTMLCanvasElement);
}

/** Measures each text once in each font. */
function measurer() {
  const context = document.createElement('canvas').getContext('2d')!;
  const known = new Map<string, TextMetrics>();
  return {
    font: '',
    measureText(text: string): TextMetrics {
      return remembered(known, `${this.font} ${text}`, () => {
        context.font = this.font;
        return context.measureText(text);
      });
    },
  };
}

function remembered<V>(known: Map<string, V>, key: string, make: (key: string) => V): V {
  let value = known.get(key);
  if (value === undefined) known.set(key, (value = make(key)));
  return value;
}

/** Groups of one sign each, whose sign stands as well in the group around it. */
const SINGLE: ReadonlySet<string | undefined> = new Set(['notehead', 'stem', 'flag']);

/** Draws as VexFlow does, without groups and names that nobody asks for, nor places for a pointer. */
export class Pen extends SVGContext {
  override openGroup(cls?: string): SVGGElement {
    if (!SINGLE.has(cls)) return super.openGroup(cls);
    this.groups.push(this.parent);
    this.groupAttributes.push(this.groupAttributes.at(-1)!);
    return this.parent;
  }

  override pointerRect(): this {
    return this;
  }

  override save(): this {
    this.stateStack.push({ state: { ...this.state }, attributes: { ...this.attributes } });
    return this;
  }

  override restore(): this {
    const saved = this.stateStack.pop();
    if (saved !== undefined) ({ state: this.state, attributes: this.attributes } = saved);
    return this;
  }
}

/** A note of one head: which way its stem points makes no other head. */
export class SingleNote extends StaveNote {
  override buildNoteHeads(): NoteHead[] {
    const { noteHeads } = this;
    return noteHeads.length > 0 ? noteHeads : super.buildNoteHeads();
  }
}
