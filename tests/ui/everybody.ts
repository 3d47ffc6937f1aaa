import axe from 'axe-core';

/** The rules that look at colours: all else is the same in both themes. */
const COLOURS = ['color-contrast', 'link-in-text-block'];
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** What of the page keeps somebody out, by axe's rules: all of them, or those that look at colours. */
export async function complaints(rules: 'all' | 'colours' = 'all'): Promise<string[]> {
  await document.fonts.ready;
  const { violations } = await axe.run(document, {
    runOnly: rules === 'all' ? TAGS : { type: 'rule', values: COLOURS },
    // The page of the test runner has no title and language of ours.
    ...(rules === 'all' && {
      rules: { 'document-title': { enabled: false }, 'html-has-lang': { enabled: false } },
    }),
  });
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`),
  );
}

/** Elements whose text is wider than their place and shows beyond it; what is drawn has no such place. */
export function overflowing(): string[] {
  const wide = [...document.querySelectorAll<HTMLElement>('.app *:not(.playhead, .head, svg *)')].filter(
    (element) => {
      const { overflow, display } = getComputedStyle(element);
      return (
        element.clientWidth > 0 &&
        display !== 'inline' &&
        overflow === 'visible' &&
        element.scrollWidth > element.clientWidth + 2
      );
    },
  );
  return wide.map(({ tagName, className }) => `${tagName} ${className}`);
}
