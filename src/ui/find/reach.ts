/** A control of a sheet, by the words that stand at it. */
export interface At {
  /** The caption, heading or name of the control as it is read, from its beginning. */
  readonly label: string;
}

const NAMED = 'label, legend, summary, h3, h4, button, a[href], [aria-label]';
const FOCUSABLE =
  'input:not([disabled]), select, textarea, button:not([disabled]), summary, a[href], [tabindex="0"]';

/** How long a sheet may take to come, ms; most are there within a frame or two. */
const PATIENCE = 4000;

const words = (element: Element) =>
  (element.getAttribute('aria-label') ?? element.textContent).replaceAll(/\s+/g, ' ').trim();

/** The control that `label` stands at within `root`; null where there is none. */
export function controlAt(root: ParentNode, { label }: At): HTMLElement | null {
  const named = [...root.querySelectorAll<HTMLElement>(NAMED)];
  const found =
    named.find((element) => words(element) === label) ??
    named.find((element) => words(element).startsWith(label));
  return found === undefined ? null : controlOf(found);
}

function controlOf(named: HTMLElement): HTMLElement | null {
  if (named instanceof HTMLLabelElement) return named.control ?? within(named);
  if (named instanceof HTMLLegendElement) {
    const group = named.parentElement!;
    return group.querySelector<HTMLElement>('input:checked') ?? within(group);
  }
  const summary = named.closest('summary');
  if (summary !== null) return summary;
  if (/^H\d$/.test(named.tagName)) return after(named);
  return named.matches(FOCUSABLE) ? named : within(named);
}

const within = (element: Element) => element.querySelector<HTMLElement>(FOCUSABLE);

/** The first control behind a heading, in the part of the sheet that it heads. */
function after(heading: HTMLElement): HTMLElement | null {
  const part = heading.closest('section, details') ?? heading.parentElement!;
  const all = [...part.querySelectorAll<HTMLElement>(FOCUSABLE)];
  const behind = (element: HTMLElement) =>
    (heading.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;
  return all.find(behind) ?? null;
}

/**
 * Puts the focus on the control that `at` names, as soon as it is there, and opens what hides it.
 * @param root where it will be, asked anew until it is there
 * @returns whether it was found
 */
export async function reach(root: () => ParentNode | null, at: At): Promise<boolean> {
  for (const end = performance.now() + PATIENCE; performance.now() < end; await frame()) {
    const place = root();
    const control = place === null ? null : controlAt(place, at);
    if (control === null) continue;
    for (let fold = control.closest('details'); fold !== null; fold = outer(fold)) fold.open = true;
    control.focus({ preventScroll: true });
    control.scrollIntoView({ block: 'center' });
    return true;
  }
  return false;
}

const outer = (fold: HTMLDetailsElement) => fold.parentElement?.closest('details') ?? null;
const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
