const { join } = require('node:path');

/**
 * Who may import whom. Each layer names the places it may import from besides itself; whatever is
 * not named is forbidden. Another concept of the engine is reached through its index.ts only.
 */
const engine = (...concepts) => concepts.map((name) => `^src/engine/${name}/index\\.ts$`);
const npm = (...names) => names.map((name) => `(^|/)node_modules/(@types/)?${name}/`);
const EVERY_CONCEPT = `^src/engine/[^/]+/index\\.ts$`;
const ENGINE = '^src/engine/index\\.ts$';
/** What of the engine the page fetches once it stands. */
const PLAYING = '^src/engine/playing\\.ts$';
/** What the page needs of the edges; an edge may name it as a type, to promise it. */
const PORTS = '^src/ui/ports\\.ts$';
const PRESETS = '^presets/.+\\.json$';
const SHARED = '^shared/.+\\.json$';

const LAYERS = {
  'engine/units': npm('pure-rand'),
  'engine/harmony': [...engine('units'), ...npm('tonal')],
  'engine/scales': [...engine('units', 'harmony'), ...npm('tonal')],
  'engine/chart': engine('units', 'harmony'),
  'engine/treatment': engine('units', 'harmony', 'scales', 'chart'),
  'engine/voicing': engine('units', 'harmony', 'scales'),
  'engine/neck': engine('units', 'harmony', 'scales'),
  'engine/drills': engine('units', 'harmony', 'scales', 'neck'),
  'engine/band': [...engine('units', 'harmony', 'voicing'), PRESETS],
  'engine/practice': engine('units', 'harmony', 'chart', 'treatment', 'band'),
  'engine/ear': engine('units', 'treatment'),
  'engine/routine': [],
  'engine/performance': [EVERY_CONCEPT, '^src/engine/[^/]+\\.ts$'],
  'engine/take': [EVERY_CONCEPT, '^src/engine/[^/]+\\.ts$'],
  audio: [ENGINE, PORTS, PRESETS, ...npm('tone')],
  storage: [ENGINE, PORTS, PRESETS, SHARED, ...npm('idb', 'valibot')],
  export: [ENGINE, PORTS, ...npm('saxes', 'fflate', 'mediabunny')],
  offline: [],
  arrival: [],
  midi: [ENGINE, PORTS],
  ui: [ENGINE, PLAYING, PRESETS, ...npm('svelte', 'esm-env', 'qr', 'vexflow')],
};

const LISTED = [
  '^src/engine/[^/]+\\.ts$',
  '^src/tools/',
  ...Object.keys(LAYERS).map((layer) => `^src/${layer}/`),
];

const rule = (name, comment, from, to) => ({ name, comment, severity: 'error', from, to });

const layerRules = Object.entries(LAYERS).map(([layer, mayImport]) =>
  rule(
    layer,
    `src/${layer} imports only what the table of layers allows it`,
    { path: `^src/${layer}/` },
    { pathNot: [`^src/${layer}/`, ...mayImport] },
  ),
);

module.exports = {
  forbidden: [
    ...layerRules,
    rule(
      'engine',
      "the engine's own files import nothing but the engine",
      { path: '^src/engine/[^/]+\\.ts$' },
      { pathNot: [EVERY_CONCEPT, '^src/engine/[^/]+\\.ts$'] },
    ),
    rule(
      'unlisted',
      'every folder of src has a row in the table of layers',
      { path: '^src/.+/', pathNot: LISTED },
      {},
    ),
    rule(
      'ports-are-types',
      'an edge knows the page by the types of its ports, at most',
      { pathNot: '^(src/ui|src/main\\.ts|tests)' },
      { path: PORTS, dependencyTypesNot: ['type-only'] },
    ),
    rule(
      'composition-root',
      'only the start of the page brings main.ts in',
      { pathNot: '^src/start\\.ts$' },
      { path: '^src/main\\.ts$' },
    ),
    rule(
      'tests-and-tools',
      'the app imports neither tests nor tools',
      { path: '^src/', pathNot: '^src/tools/' },
      { path: '^(tests|src/tools)/' },
    ),
    rule('circular', 'no circle of imports', {}, { circular: true }),
    rule(
      'unresolved',
      'every import leads somewhere',
      { path: '^(src|tests)/', pathNot: '^src/tools/' },
      { couldNotResolve: true },
    ),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: join(__dirname, 'tsconfig.json') },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['svelte', 'import', 'types', 'default'],
    },
  },
};
