/** The address that opens a chart: that of the page with the chart in its fragment. */
export const linkTo = (page: string, fragment: string) => `${page.split('#')[0]!}#${fragment}`;

/** True for a host that means another computer to everybody else. */
export function isOfThisComputer(host: string): boolean {
  return host === 'localhost' || host.endsWith('.localhost') || host === '[::1]' || /^127\./.test(host);
}
