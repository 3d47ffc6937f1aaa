/** An XML element as text; null where there is none. */
export type Xml = string | null;

/** What XML 1.0 allows no document to hold: control signs and halves of letters. */
// eslint-disable-next-line no-control-regex -- these are the very letters to be kept out
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
};

/** Text as it stands in a document. */
export const text = (plain: string): string =>
  plain.replace(FORBIDDEN, '').replace(/[&<>"]/g, (sign) => ENTITIES[sign]!);

type Attributes = Readonly<Record<string, string | number | null>>;

/**
 * An element with its attributes and children; attributes and children that are null are left out.
 * @param children elements, or text made by {@link text}
 */
export function element(name: string, attributes: Attributes = {}, ...children: readonly Xml[]): string {
  const listed = Object.entries(attributes)
    .filter(([, value]) => value !== null)
    .map(([key, value]) => ` ${key}="${text(String(value))}"`)
    .join('');
  const content = children.filter((child) => child !== null).join('');
  return content === '' ? `<${name}${listed}/>` : `<${name}${listed}>${content}</${name}>`;
}

/** An element that holds a number or plain text and nothing else. */
export const leaf = (name: string, value: string | number): string => element(name, {}, text(String(value)));
