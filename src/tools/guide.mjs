import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { ROOT } from './run.mjs';
import { slug, toHtml } from './markdown.mjs';
import { POLICY } from './safety.mjs';

const FOLDER = `${ROOT}src/guide/`;
/** Width and height of a WebP picture, from its first bytes (VP8, lossy). @param {Buffer} data */
const sizeOf = (data) => ({ width: data.readUInt16LE(26) & 0x3fff, height: data.readUInt16LE(28) & 0x3fff });

/** The chapters of the guide, in order. @returns {string[]} their Markdown */
export const chapters = () =>
  readdirSync(FOLDER)
    .filter((name) => /^\d+-.+\.md$/.test(name))
    .sort((a, b) => parseInt(a) - parseInt(b))
    .map((name) => readFileSync(FOLDER + name, 'utf8'));

/** @param {string} source @param {string} words */
function picture(source, words) {
  // A new one is not there before it has been taken of the built app.
  if (!existsSync(FOLDER + source)) return '';
  const { width, height } = sizeOf(readFileSync(FOLDER + source));
  return `<img src="./${source}" alt="${words}" width="${width}" height="${height}" loading="lazy" />`;
}

/** The whole guide as one page. @param {string} face a rule for the page's own fonts */
function guidePage(face) {
  const texts = chapters();
  const titles = texts.map((text) => /^# (.+)$/m.exec(text)?.[1] ?? '');
  const contents = titles.map((title) => `<li><a href="#${slug(title)}">${title}</a></li>`).join('');
  const policy = Object.entries(POLICY)
    .map(([name, value]) => `${name} ${value}`)
    .join('; ');
  return {
    'guide/index.html': `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8" />
<meta http-equiv="Content-Security-Policy" content="${policy}" />
<meta name="viewport" content="width=device-width, initial-scale=1" />
<meta name="description" content="How to play with the band of Vampwright: charts, treatments, practice, the neck, files." />
<meta name="color-scheme" content="light dark" />
<title>Guide – Vampwright</title>
<link rel="icon" href="../icon.svg" type="image/svg+xml" />
<link rel="stylesheet" href="./guide.css" />
</head>
<body>
<header><a href="../">Back to the band</a><h1>The guide</h1></header>
<nav aria-label="Chapters"><ol>${contents}</ol></nav>
<main>
${texts.map((text) => `<section>\n${toHtml(text, picture)}\n</section>`).join('\n')}
</main>
</body>
</html>
`,
    'guide/guide.css': [
      face,
      readFileSync(`${ROOT}src/ui/style/tokens.css`, 'utf8'),
      readFileSync(`${FOLDER}guide.css`, 'utf8'),
    ].join('\n'),
  };
}

/** The app's own faces, as the build has named them. @param {string[]} files */
function faces(files) {
  const fonts = [
    ['Text', /\/text-[^/]+woff2$/],
    ['Chords', /\/chords-[^/]+woff2$/],
    ['Signs', /signs-700.*woff2$/],
  ];
  return fonts
    .map(([family, name]) => {
      const file = files.find((path) => /** @type {RegExp} */ (name).test(path));
      const range = family === 'Signs' ? 'unicode-range: U+394, U+266D-266F;' : '';
      return file === undefined
        ? ''
        : `@font-face { font-family: '${family}'; src: url('../${file}') format('woff2'); font-weight: 300 800; font-display: swap; ${range} }`;
    })
    .join('\n');
}

/**
 * Writes the guide beside the app, so that it is there offline as well.
 * @returns {import('vite').Plugin}
 */
export function guide() {
  return {
    name: 'guide',
    apply: 'build',
    generateBundle(_, bundle) {
      for (const [fileName, source] of Object.entries(guidePage(faces(Object.keys(bundle))))) {
        this.emitFile({ type: 'asset', fileName, source });
      }
      for (const name of readdirSync(`${FOLDER}pictures`)) {
        const source = readFileSync(`${FOLDER}pictures/${name}`);
        this.emitFile({ type: 'asset', fileName: `guide/pictures/${name}`, source });
      }
    },
  };
}
