import type { Sign } from '../../../engine/index.ts';

/** A drawn sign: its outline in thousandths of the em with its foot at 0, how far it rises, how high and wide it is. */
interface Outline {
  readonly path: string;
  readonly rises: number;
  readonly height: number;
  readonly width: number;
}

/**
 * Segno and coda as Bravura draws them (U+E047 and U+E048 of SMuFL; SIL OFL 1.1, its text in `OFL-Bravura.txt`).
 * Outlines, because a page is printed, and a figure saved, without waiting for a font.
 */
const OUTLINES: Readonly<Record<RoadSign, Outline>> = Object.freeze({
  segno: {
    path: 'M135-665C141-665 148-663 151-652L153-645C160-618 175-559 226-559C267-559 295-583 295-626C295-641 292-657 287-673C271-719 204-736 153-736C83-736 4-650 4-551C4-527 9-502 20-477C52-404 197-315 205-312C209-310 211-308 211-304C211-300 209-295 205-288C198-274 54-15 54-15C52-11 51-6 51-2C51 14 63 27 79 27C89 27 99 21 104 12C104 12 259-268 262-274C262-273 270-279 274-279C289-276 489-217 489-122C489-83 465-57 431-52L428-51C407-51 390-65 390-96L390-107C390-145 365-173 337-173C333-173 329-172 325-171C288-162 254-146 254-106C254-45 316 8 375 8C388 8 402 6 417 1C497-26 550-91 550-174C550-183 549-193 548-203C533-313 375-402 363-408C351-415 346-419 346-424C346-426 347-428 348-430C353-438 508-717 508-717C511-722 512-726 512-731C512-747 499-759 484-759C474-759 464-754 459-745C459-745 300-458 294-449C291-444 289-441 285-441C282-441 279-442 275-444C266-447 115-505 89-550C83-561 75-582 75-603C75-630 87-658 129-665M415-466C415-435 441-409 472-409C504-409 529-435 529-466C529-498 504-523 472-523C441-523 415-498 415-466M140-264C140-295 115-321 83-321C52-321 26-295 26-264C26-232 52-207 83-207C115-207 140-232 140-264Z',
    rises: 759,
    height: 786,
    width: 554,
  },
  coda: {
    path: 'M937-400L818-400C808-588 668-739 506-752L506-881C506-894 495-898 482-898C469-898 458-894 458-881L458-752C296-739 157-589 146-400L14-400C0-400-4-389-4-376C-4-363 0-352 14-352L146-352C157-165 296-13 458 0L458 140C458 154 469 158 482 158C495 158 506 154 506 140L506 0C668-13 808-165 818-352L937-352C951-352 955-363 955-376C955-389 951-400 937-400M653-400L506-400L506-696C646-684 653-562 653-400M458-696L458-400L316-400C316-562 316-684 458-696M316-352L458-352L458-48C329-63 317-198 316-352M506-48L506-352L653-352C650-199 631-63 506-48Z',
    rises: 898,
    height: 1056,
    width: 959,
  },
});

/** Signs of a road map that are drawn. */
export type RoadSign = 'segno' | 'coda';

/** True for a sign that stands where one arrives; all others stand where one leaves, at the end of their bar. */
export const isArrival = (sign: Sign): sign is RoadSign => sign in OUTLINES;

/** How high they stand over a row, px. Our choice: as the letter of a section beside them. */
const HEIGHT = 15;

const scaleOf = ({ height }: Outline) => HEIGHT / height;

/** How wide a sign is, px. */
export const roadSignWidth = (sign: RoadSign): number => OUTLINES[sign].width * scaleOf(OUTLINES[sign]);

/** Room to the right of a sign, px. */
const BESIDE = 5;

/** Where each of some signs stands beside the next from `x` on, px, and where what follows them does. */
export function besideEachOther(signs: readonly RoadSign[], x: number) {
  let end = x;
  const places = signs.map((sign) => {
    const at = end;
    end += roadSignWidth(sign) + BESIDE;
    return { sign, at };
  });
  return { places, end };
}

/** The outline of a sign whose left upper corner is at x and y, px, and how it is moved there. */
export function roadSign(
  sign: RoadSign,
  x: number,
  y: number,
): { readonly d: string; readonly transform: string } {
  const outline = OUTLINES[sign];
  const scale = scaleOf(outline);
  return { d: outline.path, transform: `translate(${x} ${y + outline.rises * scale}) scale(${scale})` };
}
