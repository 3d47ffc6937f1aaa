import staff from '../style/fonts/staff.woff2?url&no-inline';

/** The face of the staff's signs: cut down from Bravura, see `style/fonts/OFL-Bravura.txt`. */
export const STAFF_FACE = 'Vampwright Staff';
export const TEXT_FACE = "Signs, 'Text', 'Encode Sans Variable', system-ui, sans-serif";
export const CHORD_FACE =
  "Signs, 'Chord Signs', Chords, 'Text', 'Encode Sans Variable', system-ui, sans-serif";

let loading: Promise<void> | null = null;

/** Loads the staff's face from the app's own files; what could not be loaded is tried again the next time. */
export function loadStaffFace(): Promise<void> {
  loading ??= new FontFace(STAFF_FACE, `url(${staff})`)
    .load()
    .then((face) => void document.fonts.add(face))
    .catch((reason: unknown) => {
      loading = null;
      throw reason;
    });
  return loading;
}
