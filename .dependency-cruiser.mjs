/**
 * Who may import whom, checked on the resolved module graph.
 *
 * `layers` is the one list of the core's folders, from the ground up: a folder imports itself and those
 * before it, never those after it.
 */

/** Folders of shared-core in order; a layer imports leftwards only. */
export const layers = [
  'problem',
  'units',
  'numerics',
  'circuit',
  'devices',
  'valves',
  'kit',
  'prediction',
  'bands',
  'faults',
  'safety',
  'journal',
  'drawing',
  'report',
  'feedback',
  'contract',
];

/**
 * npm packages that the core may use, each with its reason. The same names stand in `.oxlintrc.json`.
 *
 * @type {Readonly<Record<string, string>>}
 */
export const corePackages = {
  yaml: 'kit files: line and column on every node and error, duplicate keys refused, alias limit',
  zod: 'shapes of kit files and calls; only in kit/ and contract/schemas.ts',
  'd3-scale': 'axes of plots that screen and PDF share; pure arithmetic',
  'ml-levenberg-marquardt':
    'fits of valve laws to published points; pure arithmetic, no clock unless a timeout is asked for',
};

const packagesPath = `(^|/)node_modules/(@types/)?(${Object.keys(corePackages).join('|')})/`;

const layerRules = layers.slice(0, -1).map((layer, index) => ({
  name: `layer-${layer}`,
  comment: `shared-core/${layer} imports leftwards only: ${layers.slice(0, index).join(', ') || 'nothing'}.`,
  severity: 'error',
  from: { path: `^shared-core/${layer}/` },
  to: { path: `^shared-core/(${layers.slice(index + 1).join('|')})/` },
}));

export default {
  forbidden: [
    ...layerRules,
    {
      name: 'core-stands-alone',
      comment: 'shared-core imports itself and a short list of packages; no Node, no Electron, no screen.',
      severity: 'error',
      from: { path: '^shared-core/' },
      to: { pathNot: `^shared-core/|${packagesPath}` },
    },
    {
      name: 'core-without-dynamic-import',
      comment: 'What the core needs is known when it is loaded.',
      severity: 'error',
      from: { path: '^shared-core/' },
      to: { dynamic: true },
    },
    {
      name: 'renderer-without-electron',
      comment: 'The screen talks to the host through the contract only.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^electron/' },
    },
    {
      name: 'electron-without-renderer',
      comment: 'The host serves the built screen; it does not import it.',
      severity: 'error',
      from: { path: '^electron/' },
      to: { path: '^renderer/' },
    },
    {
      name: 'feature-stands-alone',
      comment: 'A feature never imports another one; app/ composes them.',
      severity: 'error',
      from: { path: '^renderer/features/([^/]+)/' },
      to: { path: '^renderer/features/', pathNot: '^renderer/features/$1/' },
    },
    {
      name: 'components-know-no-app',
      comment: 'Shared components take everything as props.',
      severity: 'error',
      from: { path: '^renderer/components/' },
      to: { path: '^renderer/(app|features|bridge)/' },
    },
    {
      name: 'renderer-takes-types-of-schemas',
      comment: 'Schemas run in the host; the screen imports their types only.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^shared-core/contract/schemas', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'product-without-tests',
      comment: 'Nothing that ships imports from tests/.',
      severity: 'error',
      from: { path: '^(shared-core|electron|renderer)/' },
      to: { path: '^tests/' },
    },
    { name: 'no-cycle', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'resolvable',
      comment: 'Every import leads to a file or an installed package.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: '[.]css$' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.d.ts'],
      conditionNames: ['import', 'node', 'default', 'types'],
      exportsFields: ['exports'],
    },
  },
};
