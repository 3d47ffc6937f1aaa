import type { Changes } from '../../engine/index.ts';

const veils = new WeakMap<Changes, Changes>();

/** The changes as written, whatever lies over them: for players who want to hear what is altered, not see it. */
export function veiled(changes: Changes): Changes {
  let veil = veils.get(changes);
  if (veil === undefined) {
    const spans = changes.spans.map((span) =>
      span.treatment === null ? span : { ...span, chord: span.written, treatment: null },
    );
    veils.set(changes, (veil = { ...changes, spans }));
  }
  return veil;
}
