/**
 * The little of Markdown that the guide is written in, as HTML: headings, paragraphs, lists, tables, code,
 * pictures, and within a line code, strong words and links. Everything else is text.
 */

const escape = (/** @type {string} */ text) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/** A heading's name in addresses. @param {string} text */
export const slug = (text) =>
  text
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-|-$/g, '');

/** @param {string} text one line */
function inline(text) {
  return text
    .split(/(`[^`]+`)/)
    .map((part) =>
      part.startsWith('`')
        ? `<kbd>${escape(part.slice(1, -1))}</kbd>`
        : escape(part)
            .replaceAll(/\*\*(.+?)\*\*/g, '<strong>$1</strong>')
            .replaceAll(/\[(.+?)\]\((.+?)\)/g, '<a href="$2">$1</a>'),
    )
    .join('');
}

/** @param {string} row */
const cells = (row) =>
  row
    .split('|')
    .slice(1, -1)
    .map((cell) => inline(cell.trim()));

/** @param {string[]} rows */
function table(rows) {
  const [head, , ...body] = rows;
  const line = (/** @type {string[]} */ row, /** @type {string} */ cell) =>
    `<tr>${row.map((text) => `<${cell}>${text}</${cell}>`).join('')}</tr>`;
  return `<div class="wide"><table><thead>${line(cells(head ?? ''), 'th scope="col"').replaceAll('</th scope="col">', '</th>')}</thead><tbody>${body.map((row) => line(cells(row), 'td')).join('')}</tbody></table></div>`;
}

/** @param {string[]} lines @param {RegExp} mark @param {string} tag */
const list = (lines, mark, tag) =>
  `<${tag}>${lines.map((line) => `<li>${inline(line.replace(mark, ''))}</li>`).join('')}</${tag}>`;

/**
 * @param {string} block lines without an empty one between them
 * @param {(source: string, words: string) => string} picture
 */
function blockHtml(block, picture) {
  const lines = block.split('\n');
  const heading = /^(#{1,3}) (.+)$/.exec(block);
  if (heading !== null) {
    const level = /** @type {string} */ (heading[1]).length + 1;
    const text = /** @type {string} */ (heading[2]);
    return `<h${level} id="${slug(text)}">${inline(text)}</h${level}>`;
  }
  const image = /^!\[(.+)\]\((.+)\)$/.exec(block);
  if (image !== null) return picture(/** @type {string} */ (image[2]), escape(image[1] ?? ''));
  if (block.startsWith('|')) return table(lines);
  if (block.startsWith('- ')) return list(lines, /^- /, 'ul');
  if (/^\d+\. /.test(block)) return list(lines, /^\d+\. /, 'ol');
  return `<p>${inline(lines.join(' '))}</p>`;
}

/**
 * @param {string} text
 * @param {(source: string, words: string) => string} picture how a picture is shown
 * @returns {string}
 */
export function toHtml(text, picture) {
  return text
    .split(/^```\w*\n([\s\S]*?)^```$/m)
    .flatMap((part, index) =>
      index % 2 === 1
        ? [`<pre tabindex="0">${escape(part.trimEnd())}</pre>`]
        : part
            .split(/\n{2,}/)
            .map((block) => block.trim())
            .filter((block) => block !== '')
            .map((block) => blockHtml(block, picture)),
    )
    .join('\n');
}
