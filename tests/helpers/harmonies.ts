import kinds from '../../shared/reference/musicxml-kinds.json' with { type: 'json' };
import { pitchClass, type Harmony, type HarmonyDegree } from '../../src/engine/harmony/index.ts';

const sorted = (pcs: readonly number[]): readonly number[] => [...pcs].sort((a, b) => a - b);

/** A harmony as the reference files list it. */
export interface Row {
  readonly root: string;
  readonly kind: string;
  readonly degrees: string;
  readonly bass: string | null;
}

/** What a row of the reference files means. */
export function harmonyOf({ root, kind, degrees, bass }: Row): Harmony {
  const listed = degrees.split(' ').filter(Boolean);
  return {
    root,
    kind,
    bass,
    degrees: listed.map((degree) => {
      const [type, value, alter] = degree.split(':') as [HarmonyDegree['type'], string, string];
      return { type, value: Number(value), alter: Number(alter) };
    }),
  };
}

/** Pitch classes by the standard's arithmetic alone, without a degree being named. */
export function standardPcs({ root, kind, degrees }: Harmony): readonly number[] {
  const steps: Record<number, number> = { 1: 0, 2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 10, 9: 2, 11: 5, 13: 9 };
  let pcs: readonly number[] = kinds.kinds[kind as keyof typeof kinds.kinds];
  for (const { type, value, alter } of degrees) {
    const plain = steps[value]!;
    const own = pcs.find((pc) => Math.abs(pc - plain) <= 1)!;
    if (type === 'add') pcs = [...pcs, (plain + alter + 12) % 12];
    else if (type === 'subtract') pcs = pcs.filter((pc) => pc !== own);
    else pcs = pcs.map((pc) => (pc === own ? (own + alter + 12) % 12 : pc));
  }
  return sorted(pcs.map((pc) => (pc + pitchClass(root)) % 12));
}
