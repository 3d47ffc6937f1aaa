import type { TreatmentOrigin } from '../harmony/index.ts';
import type { TreatmentKind } from './types.ts';

/** A colour for a stretch of time, over whatever dominants lie there. */
export interface Stroke {
  readonly from: number;
  readonly to: number;
  readonly kind: TreatmentKind;
  readonly origin: TreatmentOrigin;
  /** Ends the sentence that explains it: "placed by hand". */
  readonly cause: string;
}

/** A stroke cut to one dominant. */
export interface Piece {
  readonly from: number;
  readonly to: number;
  readonly stroke: Stroke;
  /** True in the second half of `suspended-first`, where the third sounds. */
  readonly resolved: boolean;
}
