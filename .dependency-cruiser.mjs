import { layers, pure, purePackages } from './layers.mjs';

const test = '\\.test\\.tsx?$';
const bare = ['core', 'npm', 'npm-dev', 'npm-peer', 'npm-optional', 'npm-no-pkg', 'npm-unknown'];

const direction = Object.entries(layers)
  .filter(([, may]) => !may.includes('*'))
  .map(([folder, may]) => ({
    name: `layer-${folder}`,
    severity: 'error',
    comment: `layers.mjs: ${folder} may import ${may.join(', ') || 'nothing of ours'}. Move the code, or open a decision page for a new direction.`,
    from: { path: `^src/${folder}/`, pathNot: test },
    to: { path: '^src/', pathNot: `^src/(${[folder, ...may].join('|')})/` },
  }));

const forbidden = [
  { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
  {
    name: 'resolves',
    severity: 'error',
    comment: 'the address of a file, as the bundler gives it (?url), is no module',
    from: {},
    to: { couldNotResolve: true, pathNot: '\\.wasm\\?url$' },
  },
  {
    name: 'pure-packages',
    severity: 'error',
    comment: 'pure folders use no Node module and only the packages listed in layers.mjs',
    from: { path: `^src/(${pure.join('|')})/`, pathNot: test },
    to: { dependencyTypes: bare, pathNot: `node_modules/(${purePackages.join('|')})/` },
  },
  {
    name: 'migrations-alone',
    severity: 'error',
    comment: 'a migration imports nothing of ours but other migrations: it is frozen',
    from: { path: '^src/storage/migrations/' },
    to: { path: '^src/', pathNot: '^src/storage/migrations/' },
  },
  {
    name: 'kysely-stays-in-storage',
    severity: 'error',
    from: { path: '^src/', pathNot: '^src/storage/' },
    to: { path: 'node_modules/(kysely|pg|@photostructure)/' },
  },
  ...direction,
];

export default {
  forbidden,
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: 'src/numeric/kernels/assembly' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
      extensions: ['.ts', '.tsx', '.mjs', '.js'],
    },
  },
};
